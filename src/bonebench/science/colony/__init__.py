"""The colony: how many beetles of each age there probably are, what they eat, and what to do about it.

Nothing is taken up here on purpose: `curve`, `traits`, `layout`, `observed` and `advice` are plain and quick to import, while
`run` and what stands on it (`model`, `forecast`, `calibrate`) compile. Name the module you need.
"""
