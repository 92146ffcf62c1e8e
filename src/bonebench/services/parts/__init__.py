"""Parts, vials, marks, condition and repairs of one specimen."""
