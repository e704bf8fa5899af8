/**
 * Every tolerance and limit of contact in one table, each with its reason. Lengths as parts of the piece's size
 * unless they end in _m; speeds as parts of the greatest speed.
 */

/** Nodes closer to a support than this start as resting. */
export const TOUCHING = 3e-4;
/**
 * A node that would land midway through a step must not be slowed from the start: the bound -gap/dt props nodes up
 * early (rise of a sinking ring's middle 10 % low), -gap/(dt/2) does not (6 % on the same mesh, 1 % in three
 * dimensions).
 */
export const LANDING = 0.5;
/**
 * How far a node may pass its support within a step, as part of the size: so much is rare, and gone with the next
 * step. Tighter costs accuracy (a sinking ring: 1.2 % off at 0.08 mm, 0.9 % at 0.5 mm).
 */
export const OVERSHOOT = 5e-3;
/** How far one part of the wall may pass another in a step, m: walls are thin. */
export const LINK_OVERSHOOT_m = 8e-5;
/** Shapes are handed out with nothing deeper in a support than this, m: what may be seen on a piece is 0.1 mm. */
export const SHOWN_m = 3e-5;
/**
 * Where rigid motion is steadied, what lies too deep is brought up no faster than in the time in which the wall's own
 * flow goes this part of the size.
 */
export const EASE = 1e-3;
/** Gaps smaller than this part of the size count as none. */
export const LEVEL = 1e-5;
/** A node keeps its support until another is nearer by this much, m: two equally near ones must not take turns. */
export const KEEP_SUPPORT_m = 2e-5;
/** A support may be met within this many times the way a node can go in the step. */
export const REACH = 2.2;
/** The inside of a triangle is watched where an obstacle is nearer to it than to its corners by this, m. */
export const INSIDE_m = 2e-5;

/** Speed below its bound at which a node counts as blocked. */
export const SPEED_SLACK = 1e-5;
/** Pull a support bears before it is let go, against load/√nodes: what is lost in round-off. */
export const PULL = 1e-5;
/** Nodes that block a little later than the first are taken along. */
export const NEXT_TO_BLOCK = 1.5;
export const AT_ONCE = 1e-6;
/** A node let go and caught again this often stays: the rest is below what matters. */
export const MOST_RELEASES = 2;
/** Rounds of the contact search; it ends by itself, this only guards. */
export const MOST_ROUNDS = 60;

/** Changes in one round from which condensing is cheaper than further rounds; and how often in one solve. */
export const WORTH_CONDENSING = 4;
export const MOST_SEARCHES = 2;
/** Springs against the mean stiffness of the nodes they stand under: soft enough to keep digits, stiff enough to stand. */
export const SPRING = 1;
/** Beyond this many touching points the small problem is no longer small. */
export const MOST_CONDENSED = 450;
/** A foot of more nodes than this is held as it rests while links are sought. */
export const MOST_STANDING = 300;
/** Passes of finding further points that land, and how many each takes up at most. */
export const PASSES = 8;
export const MOST_AT_ONCE = 80;
/**
 * What a link gives of itself, against the wall's own compliance there: two nodes that face each other say the same
 * thing twice, and only this tells how they share the load.
 */
export const LINK_GIVE = 1e-6;

/** Energy-norm residual while the contacts are still sought, where the final one is finer. */
export const ROUGH = 1e-4;
/** Friction holds as a drag below this part of the greatest speed: sticking creeps at most that fast. */
export const STICK = 5e-4;
/** Rounds of friction in one solve, and the change of the rubbing forces (part of their sum) that ends them. */
export const MOST_RUBS = 12;
export const RUB_SETTLED = 0.01;

/** Skins of one wall count as facing when their outward normals point against each other at least this much. */
export const FACING = -0.3;
/** Parts of a wall closer than this many walls at the start are neighbours and never meet. */
export const APART = 2.5;
/** The wall counts as having met itself from this gap between its skins, m. */
export const MET_m = 2e-5;
