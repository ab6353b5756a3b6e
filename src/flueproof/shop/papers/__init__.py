"""Papers: signing, certificates, stickers."""
