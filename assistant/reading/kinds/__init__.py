"""One small function a kind: a clause in, drafts of records out."""
