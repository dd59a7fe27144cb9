#pragma once
#include <string>
#include <vector>

#include "lib/graph/step_text.hpp"

/// Where the tightening and the locking belong among the steps of one job or removal.
namespace fettlefund::graph {

/// The text (as normal_tag writes it) secures what is tightened: it bends, stakes or peens something, or puts
/// in a split pin, cotter pin, lock wire or safety wire.
bool locks(const std::string& text);

/// Of a text that locks: it puts something in for that.
bool puts_in_a_lock(const std::string& text);

/// Whether the article is put in after the tightening: a split pin, lock wire or the like.
bool is_lock(const build::Article& article);

/// The last step that speaks of the thing (as normal_tag writes it); -1 if none does.
int last_about(const std::vector<WrittenStep>& steps, const std::string& thing);

/// Puts each torque in its place (see job_steps). New steps are like `like` but for kind and text.
void place_torques(std::vector<WrittenStep>& steps, const std::vector<build::Torque>& torques,
                   const WrittenStep& like);

}  // namespace fettlefund::graph
