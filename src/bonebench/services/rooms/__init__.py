"""The room: what sits where, and its settings."""
