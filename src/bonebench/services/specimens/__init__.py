"""One specimen and the list of them."""
