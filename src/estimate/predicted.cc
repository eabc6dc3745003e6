// SPDX-License-Identifier: MIT
#include "estimate/predicted.h"

#include "estimate/neighbour.h"

namespace potshadow::internal {

Eigen::Vector2d vessel_image(const ViewTask& task, const View& view, const Eigen::Vector3d& point) {
  return image_of<double>(task.setting, view.pose.data(), view.lens.data(), view.pane.data(), point,
                          true);
}

Eigen::Vector2d flat_image(const ViewTask& task, const View& view, std::size_t f, std::size_t k) {
  const Flat& flat = task.flats[f];
  const FlatPoint& point = flat.points[k];
  const Eigen::Vector3d at = flat_point(flat.seat.place, flat.square(), view.flats[f].data(),
                                        view.pane.data(), view.tilt.data(), point.across, point.up);
  return image_of<double>(task.setting, view.pose.data(), view.lens.data(), view.pane.data(), at,
                          is_behind_glass(flat.seat));
}

std::array<Eigen::Vector2d, 2> seam_image(const ViewTask& task, const View& view, std::size_t s) {
  const Seam& seam = task.seams[s];
  const double* reference = (seam.of_disc ? view.discs : view.flats)[seam.index].data();
  std::array<Eigen::Vector2d, 2> out;
  for (std::size_t k = 0; k < 2; ++k) {
    const Eigen::Vector3d point = seam_point(
        seam.seat.behind_glass, reference, view.pane.data(), view.tilt.data(),
        view.seams[s][k == 0 ? kSeamFirstMm : kSeamSecondMm], view.seams[s][kSeamDropMm]);
    out[k] = vessel_image(task, view, point);
  }
  return out;
}

Matched matched(const Task& task, const State& state) {
  Matched out;
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    const View& view = state.views[v];
    ViewMatches& matches = out.views.emplace_back();
    matches.marks = match_marks(vessel_sight(of.setting, view), state.vessel, of.marks);
    const std::vector<DiscReference>& discs = of.photo->discs;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      const auto found = match_edge(of.setting, view, discs[d], d);
      matches.edges.insert(matches.edges.end(), found.begin(), found.end());
    }
    for (std::size_t n = 0; n < view.neighbours.size(); ++n) {
      const NeighbourState& neighbour = view.neighbours[n];
      const NeighbourSight sight = neighbour_sight(of.setting, view, neighbour);
      matches.neighbours.push_back(
          {sight.turn_rad, match_marks(sight.sight, neighbour.body, of.neighbour_marks[n])});
    }
  }
  return out;
}

std::vector<Misfit> misfits(const Task& task, const State& state) {
  std::vector<Misfit> out;
  const Matched all = matched(task, state);
  const auto curve = [&](MarkPlace place, const PhotoPoint& marked, const Eigen::Vector2d& fitted,
                         const Eigen::Vector2d& normal, double sd_px) {
    const Eigen::Vector2d mark(marked.x_px, marked.y_px);
    out.push_back({place, marked, fitted, (fitted - mark).dot(normal), sd_px});
  };
  const auto point = [&](MarkPlace place, const PhotoPoint& marked, const Eigen::Vector2d& fitted,
                         double sd_px) {
    const Eigen::Vector2d mark(marked.x_px, marked.y_px);
    out.push_back({place, marked, fitted, (fitted - mark).norm(), sd_px});
  };
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    for (std::size_t i = 0; i < of.marks.size(); ++i) {
      const Match& match = all.views[v].marks[i];
      curve({of.marks[i].kind, 0, of.marks[i].number, v}, of.marks[i].at,
            vessel_image(of, state.views[v], surface_point(match, state.vessel)), match.normal,
            of.marks[i].sd_px);
    }
  }
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    const View& view = state.views[v];
    const auto seam_of = [&](bool of_disc, std::size_t index, std::size_t number,
                             std::size_t first) {
      for (std::size_t s = 0; s < of.seams.size(); ++s) {
        if (of.seams[s].of_disc != of_disc || of.seams[s].index != index) continue;
        const auto images = seam_image(of, view, s);
        for (std::size_t k = 0; k < 2; ++k) {
          point({MarkKind::kReference, number, first + k, v}, (*of.seams[s].seat.shelf_at_glass)[k],
                images[k], of.photo->marks.sd_px);
        }
      }
    };
    for (std::size_t f = 0; f < of.flats.size(); ++f) {
      const Flat& flat = of.flats[f];
      for (std::size_t k = 0; k < flat.points.size(); ++k) {
        point({MarkKind::kReference, flat.seat.number, k, v}, flat.points[k].at,
              flat_image(of, view, f, k), flat.marks_sd_px);
      }
      seam_of(false, f, flat.seat.number, flat.points.size());
    }
    const std::vector<DiscReference>& discs = of.photo->discs;
    std::size_t next = 0;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      for (std::size_t i = 0; i < discs[d].edge.size(); ++i) {
        const EdgeMatch& match = all.views[v].edges[next++];
        curve({MarkKind::kReference, discs[d].number, i, v}, discs[d].edge[i],
              edge_image(of.setting, view, discs[d], d, match.angle_rad), match.normal,
              marks_sd_px(*of.photo, discs[d]));
      }
      seam_of(true, d, discs[d].number, discs[d].edge.size());
    }
    for (std::size_t n = 0; n < view.neighbours.size(); ++n) {
      const NeighbourMatches& matches = all.views[v].neighbours[n];
      const NeighbourState& neighbour = view.neighbours[n];
      for (std::size_t i = 0; i < matches.marks.size(); ++i) {
        const Match& match = matches.marks[i];
        const ProfilePoint p = profile_point(match, neighbour.body.controls);
        const Eigen::Vector2d seen = neighbour_image<double>(
            of.setting, view.pose.data(), view.lens.data(), view.pane.data(), view.tilt.data(),
            neighbour.place.data(), match, matches.turn_rad,
            growth_at(match, neighbour.body.round.data()), p.radius_mm, p.height_mm);
        curve({MarkKind::kReference, of.photo->neighbours[n].number, i, v},
              of.neighbour_marks[n][i].at, seen, match.normal, of.neighbour_marks[n][i].sd_px);
      }
    }
  }
  return out;
}

}  // namespace potshadow::internal
