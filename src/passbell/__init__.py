"""passbell: a full-screen terminal dashboard for cooking a staggered meal beside the stove."""

__version__ = "0.1.0"
"""The version of the program; the package is built with it."""
