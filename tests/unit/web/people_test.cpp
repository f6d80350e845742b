// People, sessions and patience; and the published test vector of the hash.

#include "web/people.h"

#include <argon2.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <array>
#include <fstream>

#include "support/folder.h"
#include "web/secrets.h"

namespace warmside::web {
namespace {

const std::string kPassphrase = "four warm stones here";
const Instant kNow = Instant::unix_ms(1'790'000'000'000);

TEST(Secrets, TheLibraryIsArgon2id) {
  // RFC 9106 section 5.3: 3 passes, 32 KiB, 4 lanes, password 01.., salt 02.., secret 03..,
  // associated data 04.., tag of 32 bytes.
  std::array<std::uint8_t, 32> password, tag{};
  std::array<std::uint8_t, 16> salt;
  std::array<std::uint8_t, 8> secret;
  std::array<std::uint8_t, 12> data;
  password.fill(1), salt.fill(2), secret.fill(3), data.fill(4);
  argon2_context context{};
  context.out = tag.data(), context.outlen = tag.size();
  context.pwd = password.data(), context.pwdlen = password.size();
  context.salt = salt.data(), context.saltlen = salt.size();
  context.secret = secret.data(), context.secretlen = secret.size();
  context.ad = data.data(), context.adlen = data.size();
  context.t_cost = 3, context.m_cost = 32, context.lanes = 4, context.threads = 4;
  context.version = ARGON2_VERSION_13;
  ASSERT_EQ(argon2id_ctx(&context), ARGON2_OK);
  const std::array<std::uint8_t, 32> published{0x0d, 0x64, 0x0d, 0xf5, 0x8d, 0x78, 0x76, 0x6c,
                                               0x08, 0xc0, 0x37, 0xa3, 0x4a, 0x8b, 0x53, 0xc9,
                                               0xd0, 0x1e, 0xf0, 0x45, 0x2d, 0x75, 0xb6, 0x5e,
                                               0xb5, 0x25, 0x20, 0xe9, 0x6b, 0x01, 0xe6, 0x59};
  EXPECT_EQ(tag, published);
}

TEST(Secrets, PassphrasesAreHashedAsTheRfcRecommends) {
  const std::string hash = passphrase_hash(kPassphrase);
  // RFC 9106 section 4, second recommended option.
  EXPECT_EQ(hash.rfind("$argon2id$v=19$m=65536,t=3,p=4$", 0), 0u) << hash;
  EXPECT_TRUE(passphrase_fits(kPassphrase, hash));
  EXPECT_FALSE(passphrase_fits(kPassphrase + " ", hash));
  EXPECT_FALSE(passphrase_fits("", hash));
  EXPECT_FALSE(passphrase_fits(kPassphrase, "no hash"));
  EXPECT_NE(passphrase_hash(kPassphrase), hash) << "the salt is not random";
}

TEST(Secrets, TokensAreLongAndTheirHashIsSha256) {
  EXPECT_EQ(random_token().size(), 64u);
  EXPECT_NE(random_token(), random_token());
  // FIPS 180-2, appendix B.1.
  EXPECT_EQ(token_hash("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST(People, TheFirstIsAnOwnerAndTheLastOwnerStays) {
  const test::Folder folder;
  People people(folder.path("room.db"));
  EXPECT_FALSE(people.put({"Bo", Role::keeper}, kPassphrase).empty());
  EXPECT_TRUE(people.put({"Ada", Role::owner}, kPassphrase).empty());
  EXPECT_TRUE(people.put({"Bo", Role::keeper}, kPassphrase).empty());
  EXPECT_FALSE(people.put({"Ada", Role::keeper}, kPassphrase).empty());
  EXPECT_FALSE(people.remove("Ada").empty());
  EXPECT_FALSE(people.remove("Cy").empty());
  EXPECT_TRUE(people.put({"Bo", Role::owner}, kPassphrase).empty());
  EXPECT_TRUE(people.remove("Ada").empty());
  ASSERT_EQ(people.all().size(), 1u);
  EXPECT_EQ(people.all()[0].name, "Bo");
}

TEST(People, RefusesShortPassphrasesAndOddNames) {
  const test::Folder folder;
  People people(folder.path("room.db"));
  EXPECT_FALSE(people.put({"Ada", Role::owner}, "elevenchars").empty());
  EXPECT_TRUE(people.put({"Ada", Role::owner}, "twelve chars").empty());
  // Twelve bytes, but six letters.
  EXPECT_FALSE(people.put({"Bo", Role::owner}, "\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4").empty());
  for (const std::string& name :
       {std::string(), std::string("a/b"), std::string("a\nb"), std::string(65, 'a')}) {
    EXPECT_FALSE(people.put({name, Role::owner}, kPassphrase).empty()) << name;
  }
}

TEST(People, ASessionHoldsUntilItEnds) {
  const test::Folder folder;
  People people(folder.path("room.db"));
  ASSERT_TRUE(people.put({"Ada", Role::owner}, kPassphrase).empty());
  EXPECT_FALSE(people.sign_in("Ada", "not this one at all", kNow));
  EXPECT_FALSE(people.sign_in("Bo", kPassphrase, kNow));
  const auto token = people.sign_in("Ada", kPassphrase, kNow);
  ASSERT_TRUE(token);
  EXPECT_TRUE(people.signed_in(*token, kNow + Duration::days(29.9)));
  EXPECT_FALSE(people.signed_in(*token, kNow + Duration::days(30)));
  EXPECT_FALSE(people.signed_in("", kNow));
  EXPECT_FALSE(people.signed_in(token_hash(*token), kNow)) << "the kept hash opens the door";
  // Another program on the same file sees it, and its signing out counts here.
  People other(folder.path("room.db"));
  EXPECT_TRUE(other.signed_in(*token, kNow));
  other.sign_out(*token);
  EXPECT_FALSE(people.signed_in(*token, kNow));
  const auto second = people.sign_in("Ada", kPassphrase, kNow);
  ASSERT_TRUE(people.put({"Ada", Role::owner}, "another passphrase").empty());
  EXPECT_FALSE(people.signed_in(*second, kNow)) << "a new passphrase ends sessions";
}

TEST(People, TheFileIsPrivateAndHoldsNoSecrets) {
  const test::Folder folder;
  People people(folder.path("room.db"));
  ASSERT_TRUE(people.put({"Ada", Role::owner}, kPassphrase).empty());
  const auto token = people.sign_in("Ada", kPassphrase, kNow);
  struct stat status {};
  ASSERT_EQ(::stat(folder.path("room.db.people").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0600u);
  std::ifstream in(folder.path("room.db.people"));
  const std::string text(std::istreambuf_iterator<char>(in), {});
  EXPECT_EQ(text.find(kPassphrase), std::string::npos);
  EXPECT_EQ(text.find(*token), std::string::npos);
}

TEST(People, ADamagedFileIsNotAnEmptyOne) {
  const test::Folder folder;
  for (const char* damaged :
       {"", "{}", "[]", "{\"people\": [{\"name\": \"Ada\"}], \"sessions\": []}"}) {
    std::ofstream(folder.path("room.db.people")) << damaged;
    EXPECT_THROW(People(folder.path("room.db")), MachineFailure) << damaged;
  }
}

TEST(SignInPatience, WaitsGrowAndAreForgotten) {
  SignInPatience patience;
  Instant now = kNow;
  int last = 0;
  for (int i = 1; i <= 12; ++i) {
    patience.failed("Ada", "192.168.1.7", now);
    const int wait = patience.wait_s("Ada", "192.168.1.7", now);
    if (i < 3) {
      EXPECT_EQ(wait, 0) << i;
    } else {
      EXPECT_GT(wait, last) << i;  // by the address; the name alone stops at a minute
    }
    last = wait;
    now = now + Duration::seconds(wait);
    EXPECT_EQ(patience.wait_s("Ada", "192.168.1.7", now), 0);
  }
  patience.failed("Ada", "192.168.1.7", now);
  EXPECT_GT(patience.wait_s("Bo", "192.168.1.7", now), 0) << "another name from that address";
  EXPECT_LE(patience.wait_s("Ada", "192.168.1.8", now), 61) << "the name from elsewhere";
  patience.succeeded("Ada", "192.168.1.7");
  EXPECT_EQ(patience.wait_s("Ada", "192.168.1.7", now), 0);
}

}  // namespace
}  // namespace warmside::web
