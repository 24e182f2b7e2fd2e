"""Husbandry notes of a species, to be published or talked from: one document, several ways to write it."""
