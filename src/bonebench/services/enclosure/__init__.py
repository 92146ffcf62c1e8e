"""The box as physics: described by a file or by a few numbers, run through hours, and left in a power cut."""
