#include "web/book_pages.h"

namespace warmside::web {
namespace {

constexpr int kEntriesOnAPage = 20;

}  // namespace

report::PageInput page_input(const book::Book& book, const room::Day& day,
                             const round::Round& round, const room::Subject& subject) {
  report::PageInput input{&day, &round, book.latest_about(subject, kEntriesOnAPage), {}};
  for (const room::Entry& entry : input.latest) {
    if (book.is_struck(entry.id)) input.struck.push_back(entry.id);
  }
  return input;
}

}  // namespace warmside::web
