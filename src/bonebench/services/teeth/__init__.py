"""The teeth of a specimen: its chart, its jar, and whether the two agree."""
