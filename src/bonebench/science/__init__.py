"""Numbers in, numbers out: no file, no clock, no database, no dice."""
