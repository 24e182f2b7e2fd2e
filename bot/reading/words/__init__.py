"""Words of a language as data, and a text cut into them: tokens, lexicon, rule words, phrasings, numbers."""
