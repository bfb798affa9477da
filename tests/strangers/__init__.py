"""Files that strangers wrote: what they may take, and what becomes of those who take more."""
