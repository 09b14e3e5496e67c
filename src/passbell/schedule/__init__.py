"""The stagger: when every step of a meal starts. Pure; usable alone."""
