"""The checks, one module each; a page of the same name beside it says what it is about."""
