"""One of the shop's own references turns out wrong: visits judged again, before and after."""
