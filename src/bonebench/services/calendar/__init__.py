"""The weeks ahead by the plan that is kept: who is where when, whose hands are wanted, what is late and why."""
