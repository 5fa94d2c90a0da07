package room_test

import (
	"testing"

	"evenbass/model"
	"evenbass/report/reporttest"
	"evenbass/report/room"
	"evenbass/report/room/roomtest"
	"evenbass/report/unit"
)

func TestCheckGolden(t *testing.T) {
	p := reporttest.Project()
	r := room.Report{
		Project: p, Engine: "mode", Why: "the room is a plain box with even walls", Walls: roomtest.Walls(),
		Modes: roomtest.Modes(p.Room.Size), Transition: 188, Warnings: []model.Warning{model.Remark("a doubt"), model.GoalFromLimit{From: 45}},
	}
	reporttest.Golden(t, "roomcheck-short.txt", room.Text(r, unit.Metric))
	reporttest.CheckFits(t, room.Text(r, unit.Metric))
	r.Full = true
	reporttest.Golden(t, "roomcheck-metric.txt", room.Text(r, unit.Metric))
}
