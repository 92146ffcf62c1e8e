"""Finding a specimen by whatever is remembered of it."""
