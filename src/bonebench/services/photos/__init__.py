"""Photos of a specimen: taken in clean and small, listed by step, taken out; and the colour of bone measured in one."""
