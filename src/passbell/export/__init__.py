"""What leaves the program in an open standard, and the recipes that come in."""
