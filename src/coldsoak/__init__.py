"""Plans whether bottled LP-gas will carry a small heated shelter through cold nights."""
