#pragma once
#include <vector>

/// Directed graphs of small whole numbers, for the other files of this room. Nodes are 0 to size - 1.
namespace fettlefund::graph {

/// The nodes that each node has an arrow to; duplicates are harmless.
using Arrows = std::vector<std::vector<int>>;

/// The sets of nodes that lie on a common cycle (strongly connected components of two or more nodes, or of
/// one with an arrow to itself): members ascending, sets by their first member.
std::vector<std::vector<int>> cyclic_components(const Arrows& arrows);

/// A shortest cycle among `members` (ascending, from `cyclic_components`), as nodes in the order of the
/// arrows, from the least of its nodes, which is not repeated at the end. Of several shortest ones the one
/// found from the least starting node. In components of more than 400 nodes only cycles through the first 400
/// are looked at.
std::vector<int> shortest_cycle(const Arrows& arrows, const std::vector<int>& members);

/// Whether a path of arrows (possibly empty) leads from one node to the other.
bool reaches(const Arrows& arrows, int from, int to);

/// All nodes so that every arrow points from an earlier one to a later one; smaller numbers first where the
/// arrows leave a choice. Nodes on a cycle, and what only they lead to, are missing.
std::vector<int> in_order(const Arrows& arrows);

}  // namespace fettlefund::graph
