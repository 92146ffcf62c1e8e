"""What is shipped: figures with their standing, and their loaders."""
