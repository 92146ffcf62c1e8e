"""Catch-up: after days without a word, walk the room place by place and say what is still there."""
