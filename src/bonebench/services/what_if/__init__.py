"""What if there were one more pot, a helper, a hungrier box? The room planned once for each change, side by side."""
