"""A visit in the database: event rows, and the bench record projected from them."""
