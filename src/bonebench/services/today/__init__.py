"""Today's work: read from the plan that is kept, never planned here."""
