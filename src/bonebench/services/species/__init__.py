"""Species: the record with standing and source for each value."""
