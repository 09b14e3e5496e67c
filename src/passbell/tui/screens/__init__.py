"""The screens: choosing a plan, before the cook, the cook, and after it."""
