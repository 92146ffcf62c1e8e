"""What is printed, what comes back from paper, and what a code on paper means."""
