"""What the user owns: the trip file, its models, catalogues of generic hardware, units."""
