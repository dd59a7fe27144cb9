#pragma once
#include <string>
#include <vector>

#include "lib/log/entry.hpp"
#include "lib/sheets/read_back/read_workbook.hpp"

namespace fettlefund::sheets {

/// An entry for the log and the cell that it comes from.
struct Proposed {
  std::string sheet, cell;
  log::NewEntry entry;
};

struct Settled {
  std::vector<Proposed> proposed;
  std::vector<Remarkable> remarkable;  ///< what the workbook's own reading told, and more
  int known = 0;                       ///< things told that the log holds already
};

/// What of a workbook is to be recorded on `day`, for that build and what its log holds already.
///
/// A workbook of another build, currency or log is refused line by line. One that was written before the
/// build file or the log changed is told as older; its lines are taken all the same where what they name is
/// still there: what was bought was bought.
///
/// What the log holds since the workbook was written counts as told by it: the same is passed over. A typed
/// amount goes before a recorded one that was only planned (`paid`); two typed ones that differ are an error
/// with both values until an entry of the log (`paid`) decides, and that then stays. Another day or number of
/// packs is told and stays as recorded; what the log holds since and the workbook does not tell is told, and
/// stays. Cash counted since has what this copy tells of that day paid: it is counted anew behind that, and
/// told. So copies of one workbook come to the same in any order and number. What the log held before is
/// another purchase. A purchase is named by what was bought: what the log holds since of the same article and
/// supplier under a key that the workbook does not have is taken as the same, and told. Delivery of goods
/// that are bought is told where it is not. What is bought on another day than planned arrives as many days
/// later as its offer takes, unless typed. A line besides the plan without a day is dated by the payday of
/// its stage if that has been, by `day` if the workbook knew of cash that was counted since. A job fitted
/// otherwise than recorded is an error, and so is cash counted otherwise on the same day. What has no day in
/// the workbook happened on `day`; a later day, and one more than a year before the first payday, is an
/// error. Entries carry the name that is typed in this copy.
Settled settle(const Readback& back, const build::Build& build, const log::Log& log, budgets::Date day);

}  // namespace fettlefund::sheets
