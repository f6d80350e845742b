// Importing and exporting whole files: all or nothing, by their endings, room files first.

#include "book/files.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "support/room_builder.h"

namespace warmside::book {
namespace {

using test::date;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

constexpr const char* kRoom =
    "[room]\nname = \"Attic\"\nzone = \"Europe/Oslo\"\n\n"
    "[[enclosure]]\nid = \"tub\"\n\n"
    "[[animal]]\nid = \"j\"\nspecies = \"corn_snake\"\nenclosure = \"tub\"\n";
constexpr const char* kNotebook = "date,kind,animal,mass_g\n2026-11-25,weighed,j,500\n";

class FilesTest : public testing::Test {
 protected:
  FilesTest() {
    std::string name = (std::filesystem::temp_directory_path() / "warmside-XXXXXX").string();
    WS_CHECK(::mkdtemp(name.data()) != nullptr);
    folder_ = name;
  }
  ~FilesTest() override { std::filesystem::remove_all(folder_); }

  std::string path(const std::string& name) const { return (folder_ / name).string(); }
  std::string put(const char* name, const std::string& text) const {
    std::ofstream(path(name), std::ios::binary) << text;
    return path(name);
  }
  static std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }
  Book book(const char* name = "room.book") const {
    OpenOptions options;
    options.create = true;
    return std::move(Book::open(path(name), options)).value();
  }
  /// "room.toml:3 field code" for each problem.
  std::vector<std::string> refusals(Book& book, const std::vector<std::string>& paths,
                                    const ImportOptions& options = {}) const {
    std::vector<std::string> texts;
    const auto report = import_files(book, paths, options);
    if (report) return {"none"};
    for (const Problem& p : report.problem()) {
      const auto file = p.where.file.empty()
                            ? std::string()
                            : std::filesystem::path(p.where.file).filename().string();
      texts.push_back(
          fmt::format("{}:{} {} {}", file, p.where.line, p.where.field, name_of(p.code)));
    }
    return texts;
  }

  std::filesystem::path folder_;
};

TEST_F(FilesTest, RoomFilesGoFirstWhateverTheOrder) {
  Book b = book();
  const auto report = import_files(b, {put("n.csv", kNotebook), put("room.toml", kRoom)});
  ASSERT_TRUE(report.ok()) << to_line(report.problem().at(0));
  EXPECT_EQ(report->records, 2);
  EXPECT_EQ(report->entries_added, 1);
  EXPECT_EQ(report->entries_before, 0);
  EXPECT_EQ(b.room().info.name, "Attic");
  // A date is noon in the zone of the room file that came with it: 11:00 UTC in November.
  b.each_entry([](const room::Entry& entry) {
    EXPECT_EQ(to_text(entry.at), "2026-11-25T11:00:00Z");
    return true;
  });
  // Again: nothing new.
  const auto again = import_files(b, {path("room.toml"), path("n.csv")});
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(again->entries_added, 0);
  EXPECT_EQ(again->entries_before, 1);
  EXPECT_EQ(b.entry_count(), 1);
}

TEST_F(FilesTest, ANotebookLaterTakesTheBooksZone) {
  Book b = book();
  ASSERT_TRUE(import_files(b, {put("room.toml", kRoom)}).ok());
  ASSERT_TRUE(import_files(b, {put("n.csv", kNotebook)}).ok());
  b.each_entry([](const room::Entry& entry) {
    EXPECT_EQ(to_text(entry.at), "2026-11-25T11:00:00Z");
    return true;
  });
}

TEST_F(FilesTest, EachRefusalLeavesTheBookAsItWas) {
  Book b = book();
  const auto csv = put("n.csv", kNotebook), toml = put("room.toml", kRoom);
  EXPECT_THAT(refusals(b, {csv}), ElementsAre(":0  missing"));  // no room yet
  EXPECT_THAT(refusals(b, {path("no.toml")}), Contains("no.toml:0  missing"));
  EXPECT_THAT(refusals(b, {toml, path("no.csv")}), ElementsAre("no.csv:0  missing"));
  EXPECT_THAT(refusals(b, {toml, folder_.string() + "/x.txt"}), ElementsAre("x.txt:0  bad_value"));
  std::filesystem::create_directory(path("folder.csv"));
  EXPECT_THAT(refusals(b, {toml, path("folder.csv")}), ElementsAre("folder.csv:0  missing"));
  // The same id in two files; the same file twice.
  const auto other =
      put("other.toml", "[[enclosure]]\nid = \"box\"\n[[enclosure]]\nid = \"tub\"\n");
  EXPECT_THAT(refusals(b, {toml, other}), ElementsAre("other.toml:3 enclosure.id duplicate"));
  EXPECT_THAT(refusals(b, {toml, toml}),
              testing::UnorderedElementsAre("room.toml:1 room bad_value",
                                            "room.toml:5 enclosure.id duplicate",
                                            "room.toml:8 animal.id duplicate"));
  // A reference to nothing, an unknown animal, a bad line: all listed, whichever file.
  const auto lost =
      put("lost.toml", "[[animal]]\nid = \"k\"\nspecies = \"corn_snake\"\nenclosure = \"box\"\n");
  EXPECT_THAT(refusals(b, {toml, lost}),
              ElementsAre("lost.toml:4 animal k.enclosure unknown_name"));
  const auto bad =
      put("bad.csv", "date,kind,animal\n2026-11-25,fed,x\n2026-11-25,fed,j\nx,fed,j\n");
  const auto lines = put("bad.jsonl", "{}\n");
  EXPECT_THAT(refusals(b, {toml, bad, lines}),
              ElementsAre("bad.csv:2 animal unknown_name", "bad.csv:4 date bad_value",
                          "bad.jsonl:1 id missing", "bad.jsonl:1 at missing",
                          "bad.jsonl:1 kind missing", "bad.jsonl:1 animal missing"));
  EXPECT_TRUE(b.room() == room::Room{});
  EXPECT_EQ(b.entry_count(), 0);
}

TEST_F(FilesTest, AtMostFiveHundredProblemsAreListed) {
  std::string text = "date,kind,animal\n";
  for (int i = 0; i < 600; ++i) text += "2026-11-25,fed,x\n";
  Book b = book();
  const auto found = refusals(b, {put("room.toml", kRoom), put("n.csv", text)});
  ASSERT_EQ(found.size(), kMostProblems + 1);
  EXPECT_EQ(found[kMostProblems - 1], "n.csv:501 animal unknown_name");
  EXPECT_EQ(found[kMostProblems], ":0  bad_syntax");
}

TEST_F(FilesTest, RemoveOthersTakesOutWhatTheFilesDoNotHave) {
  Book b = book();
  const auto toml = put("room.toml", kRoom);
  const auto more = put("more.toml", "[[enclosure]]\nid = \"box\"\n");
  ASSERT_TRUE(import_files(b, {toml, more}).ok());
  ASSERT_TRUE(import_files(b, {toml}).ok());
  EXPECT_EQ(b.room().enclosures.size(), 2u);  // stays
  ImportOptions options;
  options.remove_others = true;
  ASSERT_TRUE(import_files(b, {toml}, options).ok());
  EXPECT_EQ(b.room().enclosures.size(), 1u);
  // The notebook speaks of the animal: refused, and the book unchanged.
  ASSERT_TRUE(import_files(b, {put("n.csv", kNotebook)}).ok());
  const auto empty = put("empty.toml", "[room]\nname = \"Attic\"\nzone = \"UTC\"\n");
  EXPECT_THAT(refusals(b, {empty}, options), Contains(":0  conflict"));
  EXPECT_EQ(b.room().animals.size(), 1u);
  EXPECT_EQ(b.room().info.zone, "Europe/Oslo");
}

TEST_F(FilesTest, ProgressMayStopAnImport) {
  std::string text = "date,kind,animal\n";
  for (int i = 0; i < 50'000; ++i) text += "2026-11-25,fed,j\n";
  Book b = book();
  const auto toml = put("room.toml", kRoom), csv = put("n.csv", text);
  std::vector<std::int64_t> told;
  const auto stopped = import_files(b, {toml, csv}, {}, [&](std::int64_t lines) {
    told.push_back(lines);
    return told.size() < 2;
  });
  ASSERT_FALSE(stopped.ok());
  EXPECT_EQ(stopped.problem().at(0).code, ProblemCode::conflict);
  EXPECT_EQ(told.size(), 2u);
  EXPECT_LT(told[0], told[1]);
  EXPECT_EQ(b.entry_count(), 0);
}

TEST_F(FilesTest, WhatIsExportedImportsToTheSame) {
  Book b = book();
  ASSERT_TRUE(import_files(b, {put("room.toml", kRoom), put("n.csv", kNotebook)}).ok());
  export_book(b, path("out"));
  Book again = book("again.book");
  ASSERT_TRUE(import_files(again, {path("out/room.toml"), path("out/notebook.jsonl")}).ok());
  EXPECT_TRUE(again.room() == b.room());
  EXPECT_EQ(again.entry_count(), 1);
  export_book(again, path("out2/deep"));
  for (const char* file : {"room.toml", "notebook.jsonl"}) {
    EXPECT_EQ(text_of(path(std::string("out2/deep/") + file)),
              text_of(path(std::string("out/") + file)));
  }
}

TEST_F(FilesTest, AnExportThatFailsLeavesTheOldFilesWhole) {
  Book b = book();
  ASSERT_TRUE(import_files(b, {put("room.toml", kRoom)}).ok());
  EXPECT_THROW(export_book(b, path("room.toml")), MachineFailure);  // a file, not a folder
  EXPECT_EQ(text_of(path("room.toml")), kRoom);
  put("old", "old");
  EXPECT_THROW(write_whole_file(path("old"),
                                [](const auto& write) {
                                  write("new");
                                  throw MachineFailure("the disk is full");
                                }),
               MachineFailure);
  EXPECT_EQ(text_of(path("old")), "old");
  EXPECT_FALSE(std::filesystem::exists(path("old.part")));
  EXPECT_THROW(write_whole_file(path("no/such"), [](const auto&) {}), MachineFailure);
  write_whole_file(path("old"), [](const auto& write) { write("new"); });
  EXPECT_EQ(text_of(path("old")), "new");
  EXPECT_FALSE(std::filesystem::exists(path("old.part")));
}

}  // namespace
}  // namespace warmside::book
