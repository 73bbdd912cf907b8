"""A tree to look at: pages, pictures and texts for other drawing programs."""
