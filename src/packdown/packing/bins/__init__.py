"""Boxes in many containers: emptying one container into the others."""
