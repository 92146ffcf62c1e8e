"""One folder for each subject: gather plain values from the book, do what was asked in an open transaction, return frozen cards."""
