"""Command line and printed plan; people's units live here, formulas do not."""
