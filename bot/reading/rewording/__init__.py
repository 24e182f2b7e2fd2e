"""Items put as others would have said the same, so that later rules know one way of saying it."""
