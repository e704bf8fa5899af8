import type { Degrees } from '../../words.ts';
import { caution } from '../cautions.ts';

/** Common practice, no source: ware that can be held is below some 50 °C, and few open above 100 °C. */
const HOT_C = 100;

export const openingCaution = (degrees: Degrees) => {
  const hot = degrees === 'F' ? Math.round(HOT_C * 1.8 + 32) : HOT_C;
  return caution(
    'Opening the kiln',
    `Too early, and cold air cracks hot ware; it burns through gloves, too. Wait until the kiln's maker allows it, and anyhow below ${hot} °${degrees} (common practice, no source). Switch the power or gas off first and air the room. Fired edges, chips and specks of kiln wash cut like glass: cover eyes and hands, and wipe dust up wet. Lift heavy shelves with two.`,
  );
};
