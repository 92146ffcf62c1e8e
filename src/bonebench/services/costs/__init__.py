"""What things cost: the room's prices, and what a plan uses with money put on it."""
