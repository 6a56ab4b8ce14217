// Draws anew the pictures of the screen that the docs show, of the example in memory: node pictures.mjs
import { join } from "node:path";
import { test } from "node:test";
import { PHONE, drag, open, root, settled, start } from "./shed.mjs";

const picture = (page, name) => page.screenshot({ path: join(root, "docs", `screen-${name}.png`) });

test("pictures for the docs", async () => {
  const shed = await start(null);
  const desk = await open({ viewport: { width: 1200, height: 800 } });
  try {
    await desk.page.goto(`${shed.address}/lands`);
    await settled(desk.page);
    await drag(desk.page, "Land 6 at station 4", [0, -6]);
    await settled(desk.page);
    await picture(desk.page, "lands");
    await desk.page.goto(`${shed.address}/hull`);
    await settled(desk.page);
    await desk.page.getByRole("button", { name: "Off the bow" }).click();
    await desk.page.locator("#off").fill("1");
    await desk.page.getByLabel("Cut at").selectOption({ label: "station 4" });
    await desk.page.waitForTimeout(300);
    await picture(desk.page, "hull");
    await desk.page.goto(`${shed.address}/table`);
    await settled(desk.page);
    await picture(desk.page, "table");
    const phone = await open(PHONE);
    await phone.page.goto(`${shed.address}/boat`);
    await phone.page.locator("#list").tap();
    await phone.page.locator("#all-jobs button", { hasText: "Mark strake 3" }).tap();
    for (let i = 0; i < 3; i++) await phone.page.locator("#next").tap();
    // The colour of a tap fades.
    await phone.page.waitForTimeout(800);
    await picture(phone.page, "phone");
    await phone.close();
  } finally {
    await desk.close();
    await shed.stop();
  }
});
