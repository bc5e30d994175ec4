"""The coupled march through the night: cylinders, burners, shelter, one time loop."""
