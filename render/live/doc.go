// Package live serves the page on which a neck is shaped by hand: one page for
// one builder, on the loopback interface only.
//
// The page draws; everything it draws is computed here. It keeps the spec's
// text and sends it along with every request (/api/model with edits,
// /api/section, /api/make), so that the server holds no state of a page and
// nothing can get out of step. An edit is a change of that text.
//
// # Server
//
// An answer with meshes is binary (frame.go: JSON, then positions, normals and
// indices as typed arrays). The controls (control.go) and their limits are those of
// the spec's keys, and tests hold the one to the other. Package tomledit changes
// values in the text of a TOML file and leaves the rest as it is, at a cost in
// proportion to the text, with caps on depth and number of values. handler.go
// holds the guard (Host, Origin, Sec-Fetch-Site, token, Content-Security-
// Policy). folder.go is the one folder that can be read and written, through
// os.Root and without waiting for pipes. limit.go says how many computations
// run and for how long; one whose page has gone stops at its next step.
//
// The browser is opened on a file that only its owner can read (0600 in a folder
// of its own, removed at the end) and that leads to the page: what a program is
// started with, the token included, everybody on the machine could see. A
// browser that may not read temporary files shows nothing; the address is on
// the terminal.
//
// # Without a server
//
// Engine (engine.go) answers what needs no folder. Built for a browser (cmd/engine,
// WebAssembly) it lies in the page that standalone.go writes, as one file, and
// runs in two workers (web/src/alone.js): one for moves, one for what takes
// longer. page/memory.js gives it files in memory, since a library writes fonts
// to a temporary folder. Specs are kept in the browser (Shelf).
//
// # Page
//
// In web/src/main.js the box with the text, the controls, the file and save have
// one order. Whatever reads or changes the text calls takeText first, for what
// is typed and not taken. Save, open, undo and download wait until no edit is
// under way (settled). Edits are changes to the text and not texts, so those
// under way when another text takes its place are made to that one. An answer
// that judges an edit (422, 500) drops it; where nobody has judged it (no
// answer, 503) it waits and is asked again. The page asks once a second what the
// file holds: a question left open would take one of the six connections that a
// browser has for all of its tabs.
//
// No control acts on a text that was not read. The program refuses edits of such
// a text and those that would lead to one. The page locks its controls (inert)
// while it has one, and holds what is pressed between another text's coming and
// its being read (reading): it is done only where both texts have the same
// value. A field that is typed into is taken when the hand rests
// (Controls.delay). thumb.js keeps a slider still under a thumb that scrolls.
// The key is kept in the tab's session storage (api.js), the colours in a
// cookie, since the port differs from run to run.
//
// # Bench
//
// bench.js says which picture is large and which part of the neck it shows. Where
// the handles are and how they move is told by handle.go: it changes a key a
// little, lays the neck out anew (neck.Draft) and looks where the handle has gone,
// so that it is the inverse of what is drawn by its very making and the program
// and the engine in a page agree. handles.js turns that into px. While a handle is
// held the scale of its picture stays. After each answer it goes on with how the
// handle moves there, since a shoulder does not move in a straight line.
//
// compare.js lays another neck over this one; flush.js says where. The program tells
// by how much the numbers differ (export.Apart), since only it can reckon in the
// page's unit. lean.go gives the lights with stripes the exact normals: those of a
// mesh, and in bytes, would show breaks that the wood does not have.
//
// The script and its source are both committed. After a change in web/src:
//
//	npm ci --prefix render/live/web
//	npm run build --prefix render/live/web
//
// # Outside checks
//
// TestBundleMatchesSource builds the script anew and compares the bytes. The
// tests of cmd/neckloft drive the page in Chromium, with slow and refused
// answers too. Both skip with a message where node_modules or chromium is
// missing; .ci/run installs them.
//
//	NECKLOFT_SHOTS=folder go test ./cmd/neckloft -run TestLive
//
// leaves pictures of the page in all sizes, dark and light, and on paper, to
// look at.
//
// # Benchmarks
//
// While a control moves the page asks for the mesh at 0.1 mm, one question at a
// time, and merges the moves that come meanwhile; 120 ms after the last it asks
// for 0.02 mm, the table and the stiffness. What makes a move quick: lights
// reckoned at vertices, buffers kept and filled anew, the picture drawn as soon
// as the answer is there and before anything else on the page, no element
// touched that has not changed, no width asked of the layout, and the least
// cover computed once per neck.
//
//	go test ./cmd/neckloft -run '^$' -bench LiveDrag
//
// drags a slider in Chromium, headless and drawing in software, a move every
// 40 ms, and takes the time from the move's event to the last point of the new
// picture. Two cores shared with other jobs, which is most of the spread:
//
//	load          median             95 %            answer       drawing
//	none          28 ms              39 ms           23 ms        4 ms
//	2 to 3        29 to 39 ms        46 to 100 ms    23 to 32 ms  5 ms
//	4 to 5        35 to 53 ms        68 to 171 ms    28 to 43 ms  5 to 8 ms
//	(one run)     106 ms                             58 ms
//
// The footer tells the time from the event of a move to the frame with which its
// picture is seen. Of a move the large picture is drawn first and alone; the small
// ones, numbers and table follow when it is seen. The handles cost 0.9 ms a move
// (of which 7 µs a neck laid out anew). BenchmarkLiveEveryControl moves every
// control of the page and names the slowest; on a machine with 12 times as much to
// do as it has cores it tells nothing but their order. In the program alone no
// control stands out: of a move, 10 to 18 ms of processor time on both cores,
// headstock angle and scale length among the others.
//
// The next frame of the screen is 4 to 9 ms later. The answer holds 6 ms that
// this browser takes for any request at all, and 9.7 ms of the program (-bench
// Model): 4.6 ms choosing points and stations of the loft, 1.2 ms least cover,
// 0.8 ms volume, 1 ms buffers with normals, the rest reading, editing and JSON.
// A graphics card saves the 5 ms of drawing and what the browser needs to put
// the page together; without one, edges are rough while something moves and a
// finer still lies over the picture at rest.
package live
