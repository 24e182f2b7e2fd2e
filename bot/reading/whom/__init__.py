"""Whom the items mean: groups, exceptions, descriptions, rows of numbers, some of several."""
