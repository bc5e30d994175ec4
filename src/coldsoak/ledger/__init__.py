"""What is really left: readings at the site, kept in a journal beside the trip file."""
