/**
 * A rigid shape a wall may rest on, other than the shelf: how far away its surface is, and which way it faces.
 * Writes out[0..2] the unit normal out of the obstacle towards free space, out[3] the signed distance (m, negative
 * inside). It may move with time; in bone-dry lengths kiln furniture grows as 1/L(t) about the origin.
 */
export type Obstacle = (x: number, y: number, z: number, time_s: number, out: Float64Array) => void;
