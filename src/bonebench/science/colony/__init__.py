"""The colony: how many beetles of each age there probably are, what they eat, and what to do about it.

Nothing is taken up here on purpose: `curve`, `traits`, `layout` and `observed` are plain and quick to import, while `equations`,
`run` and what stands on them (`model`, `forecast`, `calibrate`, `feeding`, `advice`) compile. Name the module you need.
"""
