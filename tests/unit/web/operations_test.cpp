// The table of operations and docs/openapi.json say the same, both ways.

#include "web/operations.h"

#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

namespace warmside::web {
namespace {

Roles roles_of(const nlohmann::json& words) {
  Roles roles = 0;
  for (const auto& text : words) {
    if (text == "anyone") {
      roles |= kAnyone;
    } else {
      roles |= role_bit(*from_word<Role>(text.get<std::string>()));
    }
  }
  return roles;
}

TEST(Operations, AreThoseOfTheContract) {
  std::ifstream in(WARMSIDE_SOURCE "/docs/openapi.json");
  const auto contract = nlohmann::json::parse(in);
  std::map<std::string, std::string> written, ours;
  for (const auto& [path, methods] : contract.at("paths").items()) {
    for (const auto& [method, operation] : methods.items()) {
      std::string large = method;
      for (char& c : large) c = static_cast<char>(std::toupper(c));
      written[operation.at("operationId")] =
          large + " " + path + " " + std::to_string(roles_of(operation.at("x-roles")));
    }
  }
  for (const Operation& operation : all_operations()) {
    const auto [at, fresh] = ours.emplace(operation.id, std::string(operation.method) + " " +
                                                            std::string(operation.path) + " " +
                                                            std::to_string(operation.roles));
    EXPECT_TRUE(fresh) << operation.id;
  }
  EXPECT_EQ(ours, written);
}

}  // namespace
}  // namespace warmside::web
