"""passbell: a full-screen terminal dashboard for cooking a staggered meal beside the stove."""
