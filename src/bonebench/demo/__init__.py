"""The invented room: a preparation room of a county nature centre on the prairie edge. Nothing in it comes from a real one."""
