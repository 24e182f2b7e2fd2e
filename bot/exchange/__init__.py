"""A shelf in open formats: Darwin Core for collections, iCalendar for calendars, JSON for everything."""
