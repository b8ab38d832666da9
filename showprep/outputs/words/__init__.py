"""Every sentence a keeper reads, made from codes and typed values, in the keeper's units."""
