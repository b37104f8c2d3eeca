"""What there is to make it from: the shop of the one who builds, and what the trade sells."""
