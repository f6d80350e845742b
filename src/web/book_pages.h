#pragma once
// What a page about a record takes from the book beside its day: the latest entries about it.

#include "book/book.h"
#include "report/record_pages.h"

namespace warmside::web {

/// `day` and `round` must outlive what is given back.
report::PageInput page_input(const book::Book& book, const room::Day& day,
                             const round::Round& round, const room::Subject& subject);

}  // namespace warmside::web
