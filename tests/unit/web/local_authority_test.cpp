// The home's certificate authority, judged by OpenSSL's own verification of chains.

#include "web/local_authority.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <openssl/pem.h>
#include <openssl/x509_vfy.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

#include <ctime>
#include <fstream>
#include <memory>

#include "support/folder.h"

namespace warmside::web {
namespace {

using testing::ElementsAre;

const Instant kNow = Instant::unix_ms(1'790'000'000'000);

std::string content(const std::string& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::shared_ptr<X509> certificate(const std::string& pem) {
  BIO* in = BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size()));
  std::shared_ptr<X509> read(PEM_read_bio_X509(in, nullptr, nullptr, nullptr), X509_free);
  BIO_free(in);
  return read;
}

/// What OpenSSL says of the certificate for a host at a moment when only the authority is trusted.
int verdict(const std::string& leaf_pem, const std::string& authority_pem, const char* host,
            Instant at, bool address = false) {
  X509_STORE* store = X509_STORE_new();
  const auto authority = certificate(authority_pem);
  X509_STORE_add_cert(store, authority.get());
  X509_STORE_CTX* check = X509_STORE_CTX_new();
  const auto leaf = certificate(leaf_pem);
  X509_STORE_CTX_init(check, store, leaf.get(), nullptr);
  X509_VERIFY_PARAM* wanted = X509_STORE_CTX_get0_param(check);
  X509_VERIFY_PARAM_set_time(wanted, static_cast<std::time_t>(at.unix_ms() / 1000));
  X509_VERIFY_PARAM_set_purpose(wanted, X509_PURPOSE_SSL_SERVER);
  X509_VERIFY_PARAM_set_flags(wanted, X509_V_FLAG_X509_STRICT);
  if (address) {
    X509_VERIFY_PARAM_set1_ip_asc(wanted, host);
  } else {
    X509_VERIFY_PARAM_set1_host(wanted, host, 0);
  }
  X509_verify_cert(check);
  const int error = X509_STORE_CTX_get_error(check);
  X509_STORE_CTX_free(check);
  X509_STORE_free(store);
  return error;
}

TEST(LocalAuthority, TheChainHoldsForItsNamesOnly) {
  const test::Folder folder;
  const auto made =
      local_certificate(folder.path("tls"), {"pi.local", "pi"}, {"192.168.1.7", "fd00::7"}, kNow);
  EXPECT_THAT(made.left_out, ElementsAre());
  const std::string leaf = content(made.certificate_file);
  const auto says = [&](const char* host, bool address = false) {
    return verdict(leaf, made.authority_pem, host, kNow, address);
  };
  EXPECT_EQ(says("pi.local"), X509_V_OK);
  EXPECT_EQ(says("pi"), X509_V_OK);
  EXPECT_EQ(says("192.168.1.7", true), X509_V_OK);
  EXPECT_EQ(says("fd00::7", true), X509_V_OK);
  EXPECT_EQ(says("other.local"), X509_V_ERR_HOSTNAME_MISMATCH);
  EXPECT_EQ(says("192.168.1.8", true), X509_V_ERR_IP_ADDRESS_MISMATCH);
  const auto other = local_certificate(folder.path("other"), {"pi.local"}, {}, kNow);
  EXPECT_NE(verdict(leaf, other.authority_pem, "pi.local", kNow), X509_V_OK);
}

TEST(LocalAuthority, MayNotVouchForTheInternet) {
  const test::Folder folder;
  local_certificate(folder.path("tls"), {"pi.local"}, {}, kNow);
  const auto made =
      local_certificate(folder.path("tls"), {"pi.local", "bank.example", "bad name", "a,DNS:b", ""},
                        {"192.168.1.7", "93.184.216.34", "2001:db8::1"}, kNow);
  EXPECT_THAT(made.left_out, ElementsAre("bank.example", "bad name", "a,DNS:b", "", "93.184.216.34",
                                         "2001:db8::1"));
}

TEST(LocalAuthority, IsKeptAndRenewsTheMachinesCertificate) {
  const test::Folder folder;
  const std::string tls = folder.path("tls");
  const auto first = local_certificate(tls, {"pi.local"}, {}, kNow);
  const std::string leaf = content(first.certificate_file);
  const auto later = [&](double days, const std::vector<std::string>& names = {"pi.local"}) {
    const auto made = local_certificate(tls, names, {}, kNow + Duration::days(days));
    EXPECT_EQ(made.fingerprint, first.fingerprint);
    return content(made.certificate_file);
  };
  EXPECT_EQ(later(300), leaf) << "made anew without need";
  const std::string wider = later(300, {"pi.local", "den.local"});
  EXPECT_NE(wider, leaf) << "a new name";
  EXPECT_EQ(later(301, {"pi.local", "den.local"}), wider);
  const std::string renewed = later(650, {"pi.local", "den.local"});
  EXPECT_NE(renewed, wider) << "48 days before its end";
  EXPECT_EQ(verdict(renewed, first.authority_pem, "den.local", kNow + Duration::days(1000)),
            X509_V_OK);
  EXPECT_EQ(verdict(renewed, first.authority_pem, "den.local", kNow + Duration::days(1100)),
            X509_V_ERR_CERT_HAS_EXPIRED);
}

TEST(LocalAuthority, FilesAreForTheOwnerAlone) {
  const test::Folder folder;
  const auto made = local_certificate(folder.path("tls"), {"pi.local"}, {}, kNow);
  struct stat status {};
  ASSERT_EQ(::stat(folder.path("tls").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0700u);
  for (const std::string& file : {made.key_file, folder.path("tls/authority.key")}) {
    ASSERT_EQ(::stat(file.c_str(), &status), 0);
    EXPECT_EQ(status.st_mode & 0777, 0600u) << file;
  }
}

}  // namespace
}  // namespace warmside::web
