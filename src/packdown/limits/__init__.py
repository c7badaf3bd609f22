"""Formulas behind the cautions: lifting, magnets, baggage, and what slides or tips.

Every figure is an estimate. Local rules, the carrier, the maker of a device and professional
advice come first.
"""
