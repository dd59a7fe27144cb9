#pragma once
#include <map>
#include <string_view>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/graph/digraph.hpp"

namespace fettlefund::graph {

/// Where jobs and removals stand in a build, by id. Refers to the build, which must outlive it.
class Index {
 public:
  explicit Index(const build::Build& build);

  /// Indices into Build::jobs or Build::removals; ids that name none are left out.
  std::vector<int> jobs(const std::vector<build::Id>& ids) const { return found(ids, jobs_); }
  std::vector<int> removals(const std::vector<build::Id>& ids) const { return found(ids, removals_); }

 private:
  using Table = std::map<std::string_view, int>;
  static std::vector<int> found(const std::vector<build::Id>& ids, const Table& table);
  Table jobs_, removals_;
};

/// The removals that must be off before each removal, by index.
Arrows removal_needs(const build::Build& build, const Index& index);

/// The jobs that must be done before each job, by index.
Arrows job_after(const build::Build& build, const Index& index);

/// The same arrows pointing the other way.
Arrows reversed(const Arrows& arrows);

}  // namespace fettlefund::graph
