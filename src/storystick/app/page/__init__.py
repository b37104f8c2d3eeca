"""The page: the whole job in a browser, served from this computer to this computer; to a phone at the bench when asked."""
