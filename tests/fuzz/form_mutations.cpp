#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "lib/build/read/read.hpp"
#include "lib/form/reading/gather.hpp"
#include "lib/form/writing/write_form.hpp"
#include "lib/sheets/xlsx/xlsx.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/fuzz/through.hpp"

// Forms of legal builds, a few cells of them typed over, through the whole program. See README.md.
//   form_mutations FIRST LAST [--show]

namespace {

using namespace fettlefund;
using sheets::StoredBook, sheets::StoredCell, sheets::StoredSheet;

StoredBook form_of(const std::string& text) {
  const build::Reading reading = build::read(text, "legal.build");
  std::string name = (std::filesystem::temp_directory_path() / "form-XXXXXX").string();
  const int file = ::mkstemp(name.data());
  if (file < 0 || !reading.build) throw std::runtime_error("no form to begin with");
  form::write_form(text, *reading.build, name);
  StoredBook book = sheets::read_xlsx(sheets::file_bytes(name));
  std::filesystem::remove(name);
  return book;
}

StoredCell text_cell(std::string text) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::text;
  cell.text = std::move(text);
  return cell;
}

StoredCell number_cell(double number, bool as_day) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::number;
  cell.number = number;
  cell.as_day = as_day;
  return cell;
}

/// Types over cells below the headings.
class Typist {
 public:
  Typist(StoredBook book, std::uint64_t seed) : book_(std::move(book)), random_(seed) {}

  StoredBook typed() {
    for (int n = random_.between(1, 4); n > 0; --n) change(sheet());
    return std::move(book_);
  }

 private:
  using Cells = std::map<std::pair<int, int>, StoredCell>;

  StoredSheet& sheet() {
    std::vector<StoredSheet*> some;
    for (StoredSheet& one : book_.sheets) {
      if (!one.hidden && !one.cells.empty()) some.push_back(&one);
    }
    return *some[static_cast<std::size_t>(random_.below(static_cast<int>(some.size())))];
  }

  Cells::iterator any(Cells& cells) {
    return std::next(cells.begin(), random_.below(static_cast<int>(cells.size())));
  }

  void change(StoredSheet& sheet) {
    const auto one = any(sheet.cells), other = any(sheet.cells);
    switch (random_.below(6)) {
      case 0:
        sheet.cells.erase(one);
        return;
      case 1:
        one->second = other->second;
        return;
      case 2:
        one->second = odd();
        return;
      case 3:  // a row more, or one written over
        sheet.cells[{other->first.first + random_.below(3), one->first.second}] = one->second;
        return;
      case 4:
        return copy_row(sheet, one->first.first, one->first.first + random_.between(1, 30));
      default:
        sheet.cells[{one->first.first, one->first.second + random_.between(1, 3)}] = odd();
    }
  }

  static void copy_row(StoredSheet& sheet, int from, int to) {
    Cells copies;
    for (const auto& [place, cell] : sheet.cells) {
      if (place.first == from) copies[{to, place.second}] = cell;
    }
    for (const auto& [place, cell] : copies) sheet.cells[place] = cell;
  }

  StoredCell odd() {
    static const std::vector<std::string> texts = {"x",
                                                   "yes",
                                                   "=1+1",
                                                   "12,50",
                                                   "1.234,56",
                                                   " tyre ",
                                                   "a; b",
                                                   "none",
                                                   "31.12.2027",
                                                   "2027-02-30",
                                                   "0",
                                                   "-3.25",
                                                   "1e9",
                                                   "a\nb",
                                                   "'quoted'",
                                                   "\xF0\x9F\x98\x80",
                                                   "\xC2\xA0"
                                                   "5",
                                                   "#REF!",
                                                   "Rear wheel"};
    static const std::vector<double> numbers = {0, 1, -1, 2.5, 0.001, 46388, 46388.5, 1e12, 99.999, 365};
    if (random_.chance(50))
      return text_cell(texts[static_cast<std::size_t>(random_.below(static_cast<int>(texts.size())))]);
    return number_cell(numbers[static_cast<std::size_t>(random_.below(static_cast<int>(numbers.size())))],
                       random_.chance(20));
  }

  StoredBook book_;
  testing::Random random_;
};

/// The text of the build that the form says; "" where its cells already say why not.
std::string text_of(const StoredBook& book) {
  const form::Gathered gathered = form::gather(book);
  for (const form::Fault& fault : gathered.faults) {
    if (fault.error) return "";
  }
  return form::write_json(gathered.root).text;
}

StoredBook typed(const std::vector<StoredBook>& forms, std::uint64_t seed) {
  return Typist(forms[seed % forms.size()], seed).typed();
}

}  // namespace

int main(int count, char** words) {
  std::uint64_t first = 0, last = 0;
  if (!test::read_seeds(count, words, first, last)) return 2;
  std::vector<StoredBook> forms;
  for (const std::string& text : test::legal_builds()) forms.push_back(form_of(text));
  if (count > 3) return std::puts(text_of(typed(forms, first)).c_str()), 0;
  return test::run_seeds(first, last, [&](std::uint64_t seed) {
    const std::string text = text_of(typed(forms, seed));
    return text.empty() ? std::string("refused by the form") : test::through(text);
  });
}
