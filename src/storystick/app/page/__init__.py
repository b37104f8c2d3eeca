"""The page: the whole job in a browser, served from this computer to itself, and to a phone at the bench when asked."""
