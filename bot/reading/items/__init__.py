"""What a message is made of, and what is settled of single words: is it a name, a day or another word?"""
