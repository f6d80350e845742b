// The book while it is served: entries are written together, numbers grow, others' changes are
// noticed, a sheet is never older than what was asked after.

#include "web/live_book.h"

#include <gtest/gtest.h>

#include <future>

#include "demo/demo_room.h"
#include "support/folder.h"
#include "web/day_sheets.h"

namespace warmside::web {
namespace {

const Instant kNow = Instant::unix_ms(1'790'000'000'000);

class LiveBookTest : public testing::Test {
 protected:
  LiveBookTest() {
    auto demo = demo::make_demo_room();
    room::sort_records(demo.room);
    entries_ = std::move(demo.entries);
    entries_.resize(400);  // none of these strikes one that is missing
    book::OpenOptions options;
    options.create = true;
    auto book = book::Book::open(path_, options);
    auto change = book->change();
    WS_CHECK(change.put_room(demo.room).empty());
    change.commit();
    auto opened = LiveBook::open(path_, kNow);
    live_ = std::move(opened).value();
  }

  std::future<Written> write(std::vector<room::Entry> entries) {
    auto promise = std::make_shared<std::promise<Written>>();
    live_->write(std::move(entries),
                 [promise](Written written) { promise->set_value(std::move(written)); });
    return promise->get_future();
  }

  test::Folder folder_;
  const std::string path_ = folder_.path("room.db");
  std::vector<room::Entry> entries_;
  std::unique_ptr<LiveBook> live_;
};

TEST_F(LiveBookTest, WritesWhatComesTogetherAndSaysWhatBecameOfEach) {
  std::vector<std::future<Written>> all;
  for (std::size_t i = 0; i < 200; ++i) {
    room::Entry stranger = entries_[i];
    stranger.id.bytes[15] ^= 0xff;
    stranger.subject = {room::SubjectKind::animal, "nobody"};
    all.push_back(write({entries_[i], stranger, entries_[i]}));
  }
  std::int64_t last = kNow.unix_ms();
  for (auto& one : all) {
    const Written written = one.get();
    EXPECT_EQ(written.failure, "");
    ASSERT_EQ(written.each.size(), 3u);
    EXPECT_EQ(written.each[0].value(), book::Stored::now);
    EXPECT_FALSE(written.each[1].ok());
    EXPECT_EQ(written.each[2].value(), book::Stored::before);
    EXPECT_GE(written.change, last);
    last = written.change;
  }
  EXPECT_GT(last, kNow.unix_ms());
  EXPECT_EQ(live_->read([](const book::Book& book) { return book.entry_count(); }), 200);
  EXPECT_TRUE(live_->read([](const book::Book& book) { return book.verify(); }).empty());
}

TEST_F(LiveBookTest, NoticesAnotherProgram) {
  const std::int64_t before = live_->change();
  EXPECT_EQ(live_->change(), before);
  auto other = book::Book::open(path_);
  auto change = other->change();
  ASSERT_TRUE(change.append(entries_[0]).ok());
  change.commit();
  EXPECT_EQ(live_->change(), before + 1);
  EXPECT_EQ(live_->change(), before + 1);
}

TEST_F(LiveBookTest, AFailureIsToldAndTheNextWriteGoesOn) {
  std::promise<std::string> failed;
  live_->alter([](book::Book&) { throw MachineFailure("the disk is full"); },
               [&](const std::string& what) { failed.set_value(what); });
  EXPECT_EQ(failed.get_future().get(), "the disk is full");
  EXPECT_EQ(write({entries_[0]}).get().failure, "");
}

TEST_F(LiveBookTest, SheetsAreOfTheBookAsItIsWhenAsked) {
  DaySheets sheets(*live_);
  const auto get = [&](Date date) {
    std::promise<DaySheetPointer> promise;
    sheets.get(date, [&](const DaySheetPointer& sheet, const std::string& failure) {
      EXPECT_EQ(failure, "");
      promise.set_value(sheet);
    });
    return promise.get_future().get();
  };
  const Date day = Zone().date_of(entries_[0].at);
  const auto empty = get(day);
  EXPECT_EQ(get(day), empty) << "computed twice";
  const std::int64_t change = write({entries_[0]}).get().change;
  const auto fresh = get(day);
  EXPECT_GE(fresh->change, change);
  EXPECT_EQ(fresh->history.entries().size() + empty->history.entries().size(),
            fresh->history.entries().size());
  EXPECT_NE(get(day + 1), fresh);
  sheets.stop();
}

TEST(EntityTag, IsOfTheContent) {
  EXPECT_EQ(entity_tag("a"), entity_tag("a"));
  EXPECT_NE(entity_tag("a"), entity_tag("b"));
  EXPECT_EQ(entity_tag("").front(), '"');
  EXPECT_EQ(weak_tag("a"), "W/" + entity_tag("a"));
}

}  // namespace
}  // namespace warmside::web
