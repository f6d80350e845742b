#pragma once
// A new folder for a test, removed with everything in it.

#include <cstdlib>
#include <filesystem>
#include <string>

#include "core/check.h"

namespace warmside::test {

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "warmside-XXXXXX").string();
    WS_CHECK(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::string path(const char* name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

}  // namespace warmside::test
