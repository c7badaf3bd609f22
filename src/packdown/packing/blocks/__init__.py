"""Filling one container with blocks of boxes; nothing is loaded before a module is imported."""
