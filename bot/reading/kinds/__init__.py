"""What kind of entry a clause tells of, by its verb and what bears it out, and entries in the making."""
