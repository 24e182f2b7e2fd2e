"""Burrowbell: a chat bot for people who keep tarantulas."""
