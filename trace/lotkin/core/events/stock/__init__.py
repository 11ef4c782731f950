"""Events of stock: counted, moved, scrapped, packed and shipped."""
