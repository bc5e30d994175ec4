"""``coldsoak start``: a trip folder to edit, by a few questions or none."""
