#include "lib/form/writing/guide.hpp"

#include <string>
#include <utility>

#include "lib/form/tables/spec.hpp"

namespace fettlefund::form {

using sheets::Look;
using sheets::Sheet;

Sheet guide() {
  Sheet sheet{std::string(guide_sheet)};
  sheet.columns = {{24, 24}, {90, 90}};
  sheet.open = true;
  sheet.put(0, 0, std::string("How to fill in this form"), Look::title);
  const std::pair<const char*, std::string> lines[] = {
      {"Names only",
       "Give everything a name, and use that name on the other sheets. A cell offers the names there are."},
      {"Yellow cells", "are for typing. Start with Build, Things and Jobs; the other sheets can stay empty."},
      {"Missing", "A cell that a row still needs turns red, and the last column says it in words."},
      {"Examples",
       "A sheet without rows begins with one example in grey. It does not count: overwrite it, or delete it. "
       "All of it is invented."},
      {"Amounts",
       "as plain numbers; 12.50 or 12,50, as your spreadsheet writes them. Days as dates, or like "
       "2027-03-05. Hours as decimal numbers."},
      {"Several names", "in one cell have semicolons between them."},
      {"Rows",
       "can be moved, sorted, hidden, inserted and deleted. Order of rows is order on the plan's sheets."},
      {"Then",
       "fettlefund check NAME.xlsx tells what is wrong, by sheet and cell; fettlefund plan NAME.xlsx plans "
       "it."},
      {"Care",
       "The form invents no torque, clearance or wear limit: those are yours, from the maker's manual."}};
  int row = 2;
  for (const auto& [what, text] : lines) {
    sheet.put(row, 0, std::string(what), Look::strong);
    sheet.put(row++, 1, text);
  }
  ++row;
  sheet.put(row++, 0, std::string("Sheets"), Look::title);
  for (const SheetSpec& spec : all_sheets()) {
    sheet.put(row, 0, std::string(spec.name), Look::body);
    sheet.put(row, 1, std::string(spec.about));
    sheet.link(row++, 0, std::string(spec.name), 0);
  }
  return sheet;
}

}  // namespace fettlefund::form
