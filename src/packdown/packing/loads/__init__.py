"""Containers in a load space: upright boxes through an opening, past what is loaded already."""
