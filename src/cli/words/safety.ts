/** The usual caution, where the work meets it. Afterfire advises; it never switches a kiln. */
export const SAFETY = `Afterfire advises; it never switches a kiln. Follow the maker of your kiln and clay, your local codes,
and whoever is licensed for gas and electricity where you are. Clay dust holds silica: clean wet, wear a
fitted respirator. A kiln gives off heat and fumes, a gas kiln carbon monoxide: ventilate, and keep an alarm.`;

/** Said after each predicted firing. */
export const SAFETY_IN_BRIEF =
  'A prediction, not a promise: put a shelf or saucer under a first piece, and fire by the rules of your kiln and clay.';
