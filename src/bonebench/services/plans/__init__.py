"""The plan of the room: from the book to a problem, to times, and back into the book."""
