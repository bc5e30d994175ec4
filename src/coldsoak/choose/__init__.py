"""What to do: the plan, its verdict and when to change cylinders."""
