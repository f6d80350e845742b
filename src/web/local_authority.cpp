#include "web/local_authority.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <openssl/bn.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <memory>

#include "book/files.h"
#include "core/problem.h"

namespace warmside::web {
namespace {

constexpr int kAuthorityDays = 3650, kMachineDays = 397, kRenewDays = 60;
constexpr std::int64_t kDay_s = 86'400;

/// What the authority may vouch for beside the machine's own names: names and addresses that are
/// never public. local: RFC 6762; home.arpa: RFC 8375; internal: ICANN 2024; addresses: RFC 1918,
/// RFC 3927, RFC 6598, RFC 4193, RFC 4291.
constexpr const char* kHomeNames[] = {"localhost", "local", "home.arpa", "internal"};
constexpr const char* kHomeAddresses =
    "permitted;IP:127.0.0.0/255.0.0.0,permitted;IP:10.0.0.0/255.0.0.0,"
    "permitted;IP:172.16.0.0/255.240.0.0,permitted;IP:192.168.0.0/255.255.0.0,"
    "permitted;IP:169.254.0.0/255.255.0.0,permitted;IP:100.64.0.0/255.192.0.0,"
    "permitted;IP:::1/ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff,"
    "permitted;IP:fc00::/fe00::,permitted;IP:fe80::/ffc0::";

template <auto free_it>
struct Freed {
  template <class T>
  void operator()(T* it) const {
    free_it(it);
  }
};
using Key = std::unique_ptr<EVP_PKEY, Freed<EVP_PKEY_free>>;
using Certificate = std::unique_ptr<X509, Freed<X509_free>>;
using Memory = std::unique_ptr<BIO, Freed<BIO_free_all>>;

[[noreturn]] void fail(const std::string& step) {
  std::array<char, 256> why{};
  ERR_error_string_n(ERR_get_error(), why.data(), why.size());
  throw MachineFailure(fmt::format("{} failed ({})", step, why.data()));
}
void must(bool done, const char* step) {
  if (!done) fail(step);
}

std::string text_in(const Memory& memory) {
  char* data = nullptr;
  const auto length = BIO_get_mem_data(memory.get(), &data);
  return {data, static_cast<std::size_t>(length)};
}
Memory new_memory() {
  Memory memory(BIO_new(BIO_s_mem()));
  must(memory != nullptr, "memory for a certificate");
  return memory;
}
std::string pem_of(X509* certificate) {
  const Memory out = new_memory();
  must(PEM_write_bio_X509(out.get(), certificate) == 1, "writing a certificate");
  return text_in(out);
}
std::string pem_of(EVP_PKEY* key) {
  const Memory out = new_memory();
  must(PEM_write_bio_PrivateKey(out.get(), key, nullptr, nullptr, 0, nullptr, nullptr) == 1,
       "writing a key");
  return text_in(out);
}

std::string content_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}
/// Null: not there or damaged.
Certificate certificate_from(const std::string& pem) {
  const Memory in(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return Certificate(PEM_read_bio_X509(in.get(), nullptr, nullptr, nullptr));
}
Key key_from(const std::string& pem) {
  const Memory in(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return Key(PEM_read_bio_PrivateKey(in.get(), nullptr, nullptr, nullptr));
}

void keep(const std::string& path, const std::string& text) {
  book::write_whole_file(
      path, [&](const auto& put) { put(text); }, book::Readers::owner);
}

bool is_address(const std::string& text) {
  std::array<unsigned char, 16> bytes{};
  return ::inet_pton(AF_INET, text.c_str(), bytes.data()) == 1 ||
         ::inet_pton(AF_INET6, text.c_str(), bytes.data()) == 1;
}
/// Letters, digits, hyphens and dots (RFC 952): it will stand in a list with commas and colons.
bool is_host_name(const std::string& text) {
  return !text.empty() && text.size() <= 253 && !is_address(text) &&
         std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '.';
         });
}

/// Adds an extension by its text form (x509v3_config).
void extend(X509* certificate, X509* issuer, int what, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, issuer, certificate, nullptr, nullptr, 0);
  X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, what, value.c_str());
  if (extension == nullptr) fail("a part of a certificate");
  const bool added = X509_add_ext(certificate, extension, -1) == 1;
  X509_EXTENSION_free(extension);
  must(added, "a part of a certificate");
}

/// A certificate without extensions and signature.
Certificate blank_certificate(EVP_PKEY* key, const std::string& name, Instant now, int days) {
  Certificate certificate(X509_new());
  must(certificate != nullptr, "a new certificate");
  X509* c = certificate.get();
  must(X509_set_version(c, X509_VERSION_3) == 1, "a new certificate");
  // 127 random bits, positive (RFC 5280 section 4.1.2.2 allows 20 bytes).
  std::array<unsigned char, 16> serial{};
  must(RAND_bytes(serial.data(), static_cast<int>(serial.size())) == 1, "random numbers");
  serial[0] = static_cast<unsigned char>((serial[0] & 0x7f) | 0x40);
  const std::unique_ptr<BIGNUM, Freed<BN_free>> number(
      BN_bin2bn(serial.data(), static_cast<int>(serial.size()), nullptr));
  must(BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(c)) != nullptr, "a serial number");
  // A day back: clocks of phones differ.
  const std::time_t from = static_cast<std::time_t>(now.unix_ms() / 1000 - kDay_s);
  must(ASN1_TIME_set(X509_getm_notBefore(c), from) != nullptr &&
           ASN1_TIME_set(X509_getm_notAfter(c), from + (days + 1) * kDay_s) != nullptr &&
           X509_set_pubkey(c, key) == 1,
       "a new certificate");
  X509_NAME* subject = X509_get_subject_name(c);
  must(X509_NAME_add_entry_by_txt(subject, "CN", MBSTRING_UTF8,
                                  reinterpret_cast<const unsigned char*>(name.c_str()), -1, -1,
                                  0) == 1,
       "a certificate's name");
  return certificate;
}

void sign(X509* certificate, X509* issuer, EVP_PKEY* key) {
  must(X509_set_issuer_name(certificate, X509_get_subject_name(issuer)) == 1 &&
           X509_sign(certificate, key, EVP_sha256()) != 0,
       "signing a certificate");
}

Key new_key() {
  Key key(EVP_EC_gen("P-256"));
  must(key != nullptr, "a new key");
  return key;
}

struct Signed {
  Key key;
  Certificate certificate;
};

Signed new_authority(const std::vector<std::string>& names, Instant now) {
  Signed made{new_key(), nullptr};
  made.certificate = blank_certificate(
      made.key.get(), fmt::format("Warmside at home, {}", to_text(Zone().date_of(now))), now,
      kAuthorityDays);
  X509* c = made.certificate.get();
  std::string constraints = "critical";
  for (const char* name : kHomeNames) constraints += fmt::format(",permitted;DNS:{}", name);
  for (const std::string& name : names) {
    if (is_host_name(name)) constraints += fmt::format(",permitted;DNS:{}", name);
  }
  must(X509_set_issuer_name(c, X509_get_subject_name(c)) == 1, "an authority");
  extend(c, c, NID_basic_constraints, "critical,CA:TRUE,pathlen:0");
  extend(c, c, NID_key_usage, "critical,keyCertSign,cRLSign");
  extend(c, c, NID_subject_key_identifier, "hash");
  extend(c, c, NID_name_constraints, constraints + "," + kHomeAddresses);
  sign(c, c, made.key.get());
  return made;
}

/// Whether the authority's constraints let it vouch for the certificate.
bool may_vouch(X509* authority, X509* certificate) {
  // The check below sees the certificate's names only once OpenSSL has read its extensions.
  X509_check_purpose(certificate, -1, 0);
  using Constraints = std::unique_ptr<NAME_CONSTRAINTS, Freed<NAME_CONSTRAINTS_free>>;
  const Constraints constraints(static_cast<NAME_CONSTRAINTS*>(
      X509_get_ext_d2i(authority, NID_name_constraints, nullptr, nullptr)));
  return constraints != nullptr &&
         NAME_CONSTRAINTS_check(certificate, constraints.get()) == X509_V_OK;
}

std::string alternative_name(const std::string& name) {
  return (is_address(name) ? "IP:" : "DNS:") + name;
}

Certificate new_machine_certificate(const Signed& authority, EVP_PKEY* key,
                                    const std::vector<std::string>& hosts, Instant now) {
  Certificate certificate = blank_certificate(key, "Warmside", now, kMachineDays);
  X509* c = certificate.get();
  X509* issuer = authority.certificate.get();
  std::string names;
  for (const std::string& host : hosts) {
    names += (names.empty() ? "" : ",") + alternative_name(host);
  }
  extend(c, issuer, NID_basic_constraints, "critical,CA:FALSE");
  extend(c, issuer, NID_key_usage, "critical,digitalSignature");
  extend(c, issuer, NID_ext_key_usage, "serverAuth");
  extend(c, issuer, NID_subject_key_identifier, "hash");
  extend(c, issuer, NID_authority_key_identifier, "keyid:always");
  extend(c, issuer, NID_subject_alt_name, names);
  sign(c, issuer, authority.key.get());
  return certificate;
}

/// Of the hosts those that the authority may vouch for; the others go to left_out.
std::vector<std::string> vouched(const Signed& authority, EVP_PKEY* key,
                                 const std::vector<std::string>& names,
                                 const std::vector<std::string>& addresses, Instant now,
                                 std::vector<std::string>& left_out) {
  std::vector<std::string> hosts;
  const auto consider = [&](const std::string& host, bool well_formed) {
    const bool may =
        well_formed && may_vouch(authority.certificate.get(),
                                 new_machine_certificate(authority, key, {host}, now).get());
    (may ? hosts : left_out).push_back(host);
  };
  for (const std::string& name : names) consider(name, is_host_name(name));
  for (const std::string& address : addresses) consider(address, is_address(address));
  return hosts;
}

bool still_good(X509* certificate, const Signed& authority, EVP_PKEY* key,
                const std::vector<std::string>& hosts, Instant now) {
  if (certificate == nullptr || X509_check_private_key(certificate, key) != 1) return false;
  const Key issuer(X509_get_pubkey(authority.certificate.get()));
  if (X509_verify(certificate, issuer.get()) != 1) return false;
  std::time_t renew = static_cast<std::time_t>(now.unix_ms() / 1000 + kRenewDays * kDay_s);
  if (X509_cmp_time(X509_get0_notAfter(certificate), &renew) <= 0) return false;
  return std::all_of(hosts.begin(), hosts.end(), [&](const std::string& host) {
    return is_address(host)
               ? X509_check_ip_asc(certificate, host.c_str(), 0) == 1
               : X509_check_host(certificate, host.data(), host.size(), 0, nullptr) == 1;
  });
}

std::string fingerprint_of(X509* certificate) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> hash{};
  unsigned length = 0;
  must(X509_digest(certificate, EVP_sha256(), hash.data(), &length) == 1, "a fingerprint");
  std::string text;
  for (unsigned i = 0; i < length; ++i) text += fmt::format("{}{:02X}", i > 0 ? ":" : "", hash[i]);
  return text;
}

std::string der_of(X509* certificate) {
  unsigned char* bytes = nullptr;
  const int length = i2d_X509(certificate, &bytes);
  must(length > 0, "writing a certificate");
  std::string der(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(length));
  OPENSSL_free(bytes);
  return der;
}

}  // namespace

LocalCertificate local_certificate(const std::string& folder, const std::vector<std::string>& names,
                                   const std::vector<std::string>& addresses, Instant now) {
  namespace fs = std::filesystem;
  std::error_code error;
  fs::create_directories(folder, error);
  if (!error) fs::permissions(folder, fs::perms::owner_all, error);
  if (error) throw MachineFailure(fmt::format("{}: cannot be made ({})", folder, error.message()));
  const auto in_folder = [&](const char* name) { return (fs::path(folder) / name).string(); };
  const std::string authority_file = in_folder("authority.pem"),
                    authority_key_file = in_folder("authority.key");
  LocalCertificate made;
  made.certificate_file = in_folder("machine.pem");
  made.key_file = in_folder("machine.key");

  Signed authority{key_from(content_of(authority_key_file)),
                   certificate_from(content_of(authority_file))};
  std::time_t now_s = static_cast<std::time_t>(now.unix_ms() / 1000);
  if (!authority.key || !authority.certificate ||
      X509_check_private_key(authority.certificate.get(), authority.key.get()) != 1 ||
      X509_cmp_time(X509_get0_notAfter(authority.certificate.get()), &now_s) <= 0) {
    authority = new_authority(names, now);
    // The key first: a certificate without its key would be trusted for nothing.
    keep(authority_key_file, pem_of(authority.key.get()));
    keep(authority_file, pem_of(authority.certificate.get()));
  }
  Key key = key_from(content_of(made.key_file));
  if (!key) {
    key = new_key();
    keep(made.key_file, pem_of(key.get()));
  }
  const auto hosts = vouched(authority, key.get(), names, addresses, now, made.left_out);
  const Certificate before = certificate_from(content_of(made.certificate_file));
  if (!still_good(before.get(), authority, key.get(), hosts, now)) {
    const Certificate fresh = new_machine_certificate(authority, key.get(), hosts, now);
    keep(made.certificate_file, pem_of(fresh.get()) + pem_of(authority.certificate.get()));
  }
  made.authority_pem = pem_of(authority.certificate.get());
  made.authority_der = der_of(authority.certificate.get());
  made.fingerprint = fingerprint_of(authority.certificate.get());
  return made;
}

}  // namespace warmside::web
