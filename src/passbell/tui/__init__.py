"""The full-screen dashboard: views (what is shown, plain data), widgets and screens."""
