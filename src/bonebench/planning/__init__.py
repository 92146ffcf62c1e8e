"""Problem, plan, the one function that turns an order into times, and the simple rules that make orders."""
