"""What makes an entry doubtful: words left over, days, figures and things that may be meant otherwise."""
