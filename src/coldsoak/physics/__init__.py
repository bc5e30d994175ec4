"""Pure functions and hot kernels in SI units: no files, no user words."""
