/** Measures one case and prints it as JSON: npx tsx bench/one.ts <case> [size] [how]. Called by bench/run.ts. */
import { CASES, type How } from './cases.ts';

const [name, size, how] = process.argv.slice(2);
const measured = await CASES[name as keyof typeof CASES](size ?? '', (how ?? 'all') as How);
const peak_MB = process.resourceUsage().maxRSS / 1024;
process.stdout.write(`${JSON.stringify({ ...measured, peak_MB })}\n`, () => process.exit(0));
