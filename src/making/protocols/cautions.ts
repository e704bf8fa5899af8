import { KILN_CAUTIONS } from '../kiln/cautions.ts';

/** What each kind of work asks to mind; the kiln's own cautions come with every firing. */
export const CUTTING =
  'Cut, scrape and trim while the clay is damp. Dry scraping and sanding put silica in the air: wipe up wet, never sweep, and wear a fitted respirator where dust cannot be helped.';
export const MEASURING_HOT =
  'Measure cold. Ware and shelves burn long after they stop glowing; leave the kiln shut until its maker says it may be opened.';
export const UNDER_THE_BAR =
  'Stand the supports on a fired clay tray, so that a bar that falls harms no shelf, and wash tray and supports against sticking. Wash is powder too: mix it wet and wear the respirator.';
export const BOILING =
  'Boiling for hours: a lid, a stable pot away from the edge, water topped up before it is gone, tongs for the hot pieces. Never put wet pieces into a hot oven.';
export const EDGES = 'Broken and fired edges cut: round them, and wear gloves and eye protection for it.';
export const KILN = KILN_CAUTIONS;
