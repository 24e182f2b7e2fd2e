"""Pages to print: labels, slips, a helper's sheet, an animal's record. Import late: fonts take a moment."""
