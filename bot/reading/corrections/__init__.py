"""What a keeper puts right within a message: "no wait, Saffron", "2, sorry, 3 crickets"."""
