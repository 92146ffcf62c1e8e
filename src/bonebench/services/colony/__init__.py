"""The colony in numbers: how many there are, what they can eat, what to do about it; and how the pieces in the box fare."""
