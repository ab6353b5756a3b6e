"""What leaves the shop: certificate, sticker, do-not-use tag, and their machine-readable companions."""
