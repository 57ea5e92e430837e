/// Shared with every copy of the season that has the same entries.
pub type Map<K, V> = rpds::RedBlackTreeMapSync<K, V>;
