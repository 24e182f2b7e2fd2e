"""Charts, labels and sheets: data in, bytes out."""
