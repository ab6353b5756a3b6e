"""Pictures of this page, in the house's picture grammar."""
