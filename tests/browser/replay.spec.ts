/** Sessions as files: what is saved plays again bit for bit, and a bad file changes nothing. */
import { BenchPage, hashInNode, SHORT_PROJECT } from "./benchPage";
import { expect, test } from "./pageTest";

test.use({
  viewport: { width: 1024, height: 768 },
  permissions: ["clipboard-read", "clipboard-write"],
});

test("a session by hand, its file in Node, and the file opened again give the same record", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.openFile("short.json", SHORT_PROJECT);
  await expect(bench.header).toContainText("Short, 14.2");
  await bench.tripByInsect();
  const session = await bench.saved();
  const { recordHash, faults } = await bench.copied();
  expect(faults.map((f) => f.firstTrip)).toEqual(["Low gain"]);
  expect(recordHash).toBe(await hashInNode(session));

  // the saved file on the same page, played past where the session ended
  const { endS } = JSON.parse(session) as { readonly endS: number };
  await bench.openFile("session.json", session);
  await expect(bench.events).toHaveCount(0);
  await bench.time.getByRole("button", { name: "Run" }).click();
  await expect(bench.header.getByText("Trip", { exact: true })).toBeVisible();
  await bench.runsPast(endS, "strike");
  await bench.pause();
  const again = await bench.saved();
  expect((JSON.parse(again) as { readonly endS: number }).endS).toBeGreaterThan(endS);
  expect((await bench.copied()).recordHash).toBe(await hashInNode(again));
  // nothing was added to what was done: Node plays the first file on to the same instant with the same record
  const played = { ...JSON.parse(session), endS: (JSON.parse(again) as { endS: number }).endS };
  expect(JSON.parse(again)).toEqual(played);
});

test("a bad file is answered with line, column and remedy, and the bench is as it was", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.tripByInsect();
  const before = await bench.copied();
  const shown = await bench.playHead.getAttribute("aria-valuetext");
  const problem = page.getByRole("alert");

  await bench.openFile("cut.json", '{\n  "format": "quietarc-project",\n  "endS": 3,\n');
  await expect(problem).toContainText("cut.json was not opened; the bench is as it was.");
  await expect(problem).toContainText(/Line \d+, column \d+: /);

  const wrong = [
    "{",
    '  "format": "quietarc-project",',
    '  "schemaVersion": 1,',
    '  "endS": -3,',
    '  "scenario": [{ "atS": 0, "do": "kex", "down": true }]',
    "}",
  ];
  await bench.openFile("wrong.json", wrong.join("\n"));
  await expect(problem).toContainText("wrong.json was not opened");
  for (const [row, quoted] of [
    [4, "-3"],
    [5, '"kex"'],
  ] as const) {
    const column = (wrong[row - 1] ?? "").indexOf(quoted) + 1;
    await expect(problem).toContainText(`Line ${row}, column ${column}: `);
  }

  expect((await bench.copied()).recordHash).toBe(before.recordHash);
  expect(await bench.playHead.getAttribute("aria-valuetext")).toBe(shown);
  await problem.getByRole("button", { name: "Dismiss" }).click();
  await expect(problem).toHaveCount(0);
  await expect(bench.header.getByText("Trip", { exact: true })).toBeVisible();
});
