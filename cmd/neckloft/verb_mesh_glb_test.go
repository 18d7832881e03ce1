package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// glbReport is what the outside validator says of a file.
type glbReport struct {
	Issues struct {
		Errors   int `json:"numErrors"`
		Warnings int `json:"numWarnings"`
		Messages []struct {
			Code, Message, Pointer string
		}
	}
	Info struct {
		Draws     int `json:"drawCallCount"`
		Triangles int `json:"totalTriangleCount"`
	}
}

// validatorScript prints the validator's reports on the files named behind it.
const validatorScript = `
const [tool, ...files] = process.argv.slice(1);
Promise.all(files.map((file) => require(tool).validateBytes(new Uint8Array(require('fs').readFileSync(file)), { writeTimestamp: false })))
	.then((reports) => console.log(JSON.stringify(reports)));
`

// TestGLBByTheValidator has files of necks judged by the validator of the format's
// own makers: the demo, a left-handed one with slots in its headstock, and one
// with a slotted board.
func TestGLBByTheValidator(t *testing.T) {
	tool, err := filepath.Abs("../../render/live/web/node_modules/gltf-validator")
	require.NoError(t, err)
	if _, err := os.Stat(tool); err != nil {
		t.Skip("gltf-validator is not there; \"npm ci\" in render/live/web installs it")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed")
	}
	specs, err := filepath.Abs("../../testdata/specs")
	require.NoError(t, err)
	inFolder(t)
	names := []string{"demo", "fulmar.toml", "whinchat.toml"}
	command := []string{"-e", validatorScript, tool}
	for _, name := range names {
		args := []string{"mesh", "-o", name + ".glb", "--tolerance", "0.05mm"}
		command = append(command, name+".glb")
		if name != "demo" {
			args = append(args, filepath.Join(specs, name))
		}
		r := call("", args...)
		require.Equal(t, exitDone, r.code, r.err)
	}
	said, err := exec.Command(node, command...).Output()
	require.NoError(t, err)
	var reports []glbReport
	require.NoError(t, json.Unmarshal(said, &reports))
	require.Len(t, reports, len(names))
	for i, report := range reports {
		name := names[i]
		assert.Zero(t, report.Issues.Errors, "%s: %v", name, report.Issues.Messages)
		assert.Zero(t, report.Issues.Warnings, "%s: %v", name, report.Issues.Messages)
		assert.Equal(t, 2, report.Info.Draws)
		assert.Greater(t, report.Info.Triangles, 1000)
	}
}

// TestMeshGLB checks names, colours and that the same spec gives the same bytes.
func TestMeshGLB(t *testing.T) {
	inFolder(t)
	for _, file := range []string{"a.glb", "b.GLB"} {
		r := call("", "mesh", "-o", file, "--tolerance", "0.05mm")
		require.Equal(t, exitDone, r.code, r.err)
		assert.Contains(t, r.err, file+": wood and board, ")
	}
	a, err := os.ReadFile("a.glb")
	require.NoError(t, err)
	b, err := os.ReadFile("b.GLB")
	require.NoError(t, err)
	require.True(t, string(a) == string(b), "the bytes differ")

	doc, err := gltf.Open("a.glb")
	require.NoError(t, err)
	require.Len(t, doc.Nodes, 2)
	assert.Equal(t, "wood", doc.Nodes[0].Name)
	assert.Equal(t, "board", doc.Nodes[1].Name)
	assert.Len(t, doc.Asset.Extras.(map[string]any)["spec_sha256"], 64)
	// Wood is lighter than the dark board in each of the three.
	ofWood := doc.Materials[0].PBRMetallicRoughness.BaseColorFactorOrDefault()
	ofBoard := doc.Materials[1].PBRMetallicRoughness.BaseColorFactorOrDefault()
	for i := range 3 {
		assert.Greater(t, ofWood[i], ofBoard[i])
	}

	r := call("", "mesh", "-o", "c.glb", "--part", "wood")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "--part goes with .stl, .3mf and .step; a .glb holds wood and board")
	assert.NoFileExists(t, "c.glb")
}
