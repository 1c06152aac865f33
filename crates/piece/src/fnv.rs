//! FNV-1a, the checksum that folders, seeds and calendars share.

/// The checksum of no bytes at all, to begin with (the offset basis of RFC 9923).
pub const EMPTY: u64 = 0xcbf2_9ce4_8422_2325;

/// The prime of 64 bits (RFC 9923).
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// FNV-1a of 64 bits (Fowler, Noll, Vo; RFC 9923) of what gave `before` and of these bytes after it.
/// It tells texts apart and notices a change; it is no guard against someone who means harm.
pub fn fnv1a_64(before: u64, bytes: &[u8]) -> u64 {
    bytes.iter().fold(before, |sum, byte| (sum ^ u64::from(*byte)).wrapping_mul(PRIME))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_gives_the_published_test_values() {
        // Test values of RFC 9923, appendix C (the same as on the authors' own page).
        for (text, expected) in
            [("", EMPTY), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
        {
            assert_eq!(fnv1a_64(EMPTY, text.as_bytes()), expected, "{text:?}");
        }
    }

    #[test]
    fn bytes_may_come_in_several_pieces() {
        assert_eq!(fnv1a_64(fnv1a_64(EMPTY, b"foo"), b"bar"), fnv1a_64(EMPTY, b"foobar"));
    }
}
