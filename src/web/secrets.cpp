#include "web/secrets.h"

#include <argon2.h>
#include <fmt/format.h>
#include <openssl/evp.h>
#include <openssl/rand.h>

#include <array>
#include <mutex>
#include <vector>

#include "core/check.h"
#include "core/problem.h"

namespace warmside::web {
namespace {

// RFC 9106 section 4, second recommended option.
constexpr std::uint32_t kPasses = 3, kMemory_kib = 64 * 1024, kLanes = 4;
constexpr std::size_t kSaltBytes = 16, kHashBytes = 32;

/// One at a time: each takes 64 MiB.
std::mutex& hashing() {
  static std::mutex mutex;
  return mutex;
}

template <std::size_t count>
std::array<unsigned char, count> random_bytes() {
  std::array<unsigned char, count> bytes{};
  if (RAND_bytes(bytes.data(), static_cast<int>(count)) != 1) {
    throw MachineFailure("the machine gives no random numbers");
  }
  return bytes;
}

template <class Bytes>
std::string hexadecimal(const Bytes& bytes) {
  std::string text;
  for (const unsigned char byte : bytes) text += fmt::format("{:02x}", byte);
  return text;
}

}  // namespace

std::string random_token() {
  return hexadecimal(random_bytes<32>());
}

std::string token_hash(std::string_view token) {
  std::array<unsigned char, 32> hash{};
  unsigned length = 0;
  WS_CHECK(EVP_Digest(token.data(), token.size(), hash.data(), &length, EVP_sha256(), nullptr) ==
           1);
  return hexadecimal(hash);
}

std::string passphrase_hash(std::string_view passphrase) {
  const auto salt = random_bytes<kSaltBytes>();
  std::vector<char> encoded(
      argon2_encodedlen(kPasses, kMemory_kib, kLanes, kSaltBytes, kHashBytes, Argon2_id));
  const std::lock_guard lock(hashing());
  const int outcome =
      argon2id_hash_encoded(kPasses, kMemory_kib, kLanes, passphrase.data(), passphrase.size(),
                            salt.data(), salt.size(), kHashBytes, encoded.data(), encoded.size());
  if (outcome != ARGON2_OK) {
    throw MachineFailure(
        fmt::format("the passphrase cannot be hashed ({})", argon2_error_message(outcome)));
  }
  return encoded.data();
}

bool passphrase_fits(std::string_view passphrase, const std::string& hash) {
  const std::lock_guard lock(hashing());
  const int outcome = argon2id_verify(hash.c_str(), passphrase.data(), passphrase.size());
  if (outcome == ARGON2_MEMORY_ALLOCATION_ERROR || outcome == ARGON2_THREAD_FAIL) {
    throw MachineFailure("not enough memory to check a passphrase");
  }
  return outcome == ARGON2_OK;
}

void pretend_to_check(std::string_view passphrase) {
  static const std::string nobody = passphrase_hash(random_token());
  passphrase_fits(passphrase, nobody);
}

}  // namespace warmside::web
