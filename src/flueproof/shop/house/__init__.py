"""House: people, rights, settings of the shop, tokens, webhooks."""
