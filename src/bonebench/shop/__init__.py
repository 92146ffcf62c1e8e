"""The rules of the trade on plain values: no file, clock, database or dice."""
