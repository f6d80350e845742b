#pragma once
// Passphrases and tokens. Passphrases are kept as Argon2id hashes, tokens as SHA-256 of 256 random
// bits (a token is not guessable, so it needs no slow hash). OpenSSL and libargon2 stay in
// secrets.cpp.

#include <string>
#include <string_view>

namespace warmside::web {

/// 256 random bits as 64 hexadecimal digits. Throws MachineFailure when the machine has none.
std::string random_token();

/// SHA-256 of a token as 64 hexadecimal digits.
std::string token_hash(std::string_view token);

/// The passphrase's hash with its salt and parameters, in the encoded form "$argon2id$v=19$...".
/// Parameters: the second recommended option of RFC 9106 section 4 (3 passes, 4 lanes, 64 MiB),
/// meant for machines where memory is scarce; salt of 16 bytes and a hash of 32, as there.
/// Takes about 0.1 s and 64 MiB, one at a time.
std::string passphrase_hash(std::string_view passphrase);

/// Whether the passphrase has this hash. A hash that cannot be read has no passphrase.
bool passphrase_fits(std::string_view passphrase, const std::string& hash);

/// Takes as long as passphrase_fits, so that the time does not tell which names there are.
void pretend_to_check(std::string_view passphrase);

}  // namespace warmside::web
