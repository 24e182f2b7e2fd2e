"""A message on its way to a reading: slips mended, asides let go, its items made step by step."""
