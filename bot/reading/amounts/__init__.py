"""Amounts with units, and money: a grammar of its own, with the words of each language as data."""
