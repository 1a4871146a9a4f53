package layout

import "time"

// After is what comes after a burn, up to the wall, with the time the hands
// take. Common practice, no source: the makers' instructions come first.
func After(kind PanelKind, clear bool) []Step {
	steps := wiping(kind)
	if clear {
		steps = append(steps,
			Step{What: TryClear, Duration: 10 * time.Minute, Cautions: []string{
				"over solvent-based paint take a water-based clear coat: the solvents of another can lift the coats",
				"a clear coat deepens the darks and can lift burned paint: try it on a burned scrap of the same stack and let that dry first",
			}},
			Step{What: ClearCoat, Duration: 10 * time.Minute, Cautions: []string{
				"two thin coats rather than a thick one, and only on a panel that is dry and free of dust",
			}},
			Step{What: ClearDry, Duration: 24 * time.Hour},
		)
	}
	return append(steps,
		Step{What: TouchEdges, Duration: 10 * time.Minute, Cautions: []string{
			"pencil marks come off the rim now: a soft eraser on dry paint, the top coat on a small brush where they stay",
		}},
		Step{What: Hang, Duration: 10 * time.Minute, Cautions: []string{hanging(kind)}},
	)
}

func wiping(kind PanelKind) []Step {
	dry := Step{What: WipeDry, Duration: 5 * time.Minute, Cautions: []string{
		"wear gloves and a dust mask: the residue is fine and holds what the paint held",
	}}
	switch kind {
	case Canvas:
		return []Step{
			{What: WipeDamp, Duration: 5 * time.Minute, Cautions: []string{
				"a cloth that is barely damp, without pressing: wet canvas slackens and its ground softens",
			}},
			dry,
		}
	case Tile:
		dry.Cautions = append(dry.Cautions, "a tile is wiped dry only: water creeps under the paint's burned rims")
	default:
		dry.Cautions = append(dry.Cautions, "a board is wiped dry only: bare wood takes up water and swells")
	}
	return []Step{dry}
}

func hanging(kind PanelKind) string {
	switch kind {
	case Canvas:
		return "hang a canvas by its bars, out of direct sun and away from a heater"
	case Tile:
		return "a tile is heavy for its size: glue or a frame made for the weight, and a fixing made for the wall"
	default:
		return "a fixing made for the board's weight and for the wall, out of direct sun and damp"
	}
}
