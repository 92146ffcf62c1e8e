"""What leaves the room on paper: plain frozen values in, the bytes of a PDF out. Nothing here knows a book."""
