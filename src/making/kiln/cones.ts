/**
 * End points of self-supporting regular cones, as the maker prints them (Edward Orton Jr. Ceramic Foundation,
 * "Temperature Equivalents for Orton Pyrometric Cones", 2016 lettering): the temperature at which the tip has
 * come down to 6 o'clock, for a steady rate over the last 100 °C (180 °F).
 *
 * Three charts circulate and must not be mixed. This is the current one, its self-supporting columns only:
 * the large cones have other numbers, and an older single-column chart for 150 °C/h gives cone 6 as 1222 °C,
 * which here is cone 6 at 60 °C/h: same number, other meaning.
 *
 * 108 and 270 °F/h are 60 and 150 °C/h, and 27 °F/h is 15 °C/h, so the °F columns are other readings of the same
 * end points, no further rates.
 */

/**
 * `stored`: seen in print in °C. `stored-as-F`: seen in print in °F, °C rounded by us. `memory`: from memory,
 * unverified; nothing may rest on it alone.
 */
export type Standing = 'stored' | 'stored-as-F' | 'memory';

type Row = readonly [
  cone: string,
  at60_C: number,
  at150_C: number,
  standing: Standing,
  at15_C: number | undefined,
  standing15: Standing | undefined,
  at108_F?: number,
  at270_F?: number,
  at27_F?: number,
];

const ROWS: readonly Row[] = [
  ['022', 586, 590, 'stored', undefined, undefined, 1087, 1094],
  ['021', 600, 617, 'stored', undefined, undefined, 1112, 1143],
  ['020', 626, 638, 'stored', undefined, undefined, 1159, 1180],
  ['019', 678, 695, 'stored', 656, 'stored', 1252, 1283],
  ['018', 715, 734, 'stored', 686, 'stored', 1319, 1353],
  ['017', 738, 763, 'stored', 705, 'stored', 1360, 1405],
  ['016', 772, 796, 'stored', 742, 'stored', 1422, 1465],
  ['015', 791, 818, 'stored', 750, 'stored', 1456, 1504],
  ['014', 807, 838, 'stored', 757, 'stored', 1485, 1540],
  ['013', 837, 861, 'stored', 807, 'stored', 1539, 1582],
  ['012', 861, 882, 'stored', 843, 'stored', 1582, 1620],
  ['011', 875, 894, 'stored', 857, 'stored', 1607, 1641],
  ['010', 903, 915, 'stored', 891, 'stored', 1657, 1679],
  ['09', 920, 930, 'stored', 907, 'stored', 1688, 1706],
  ['08', 942, 956, 'stored', 922, 'stored', 1728, 1753],
  ['07', 976, 987, 'stored-as-F', 962, 'memory', 1789, 1809],
  ['06', 998, 1013, 'stored-as-F', 981, 'memory', 1828, 1855],
  ['05.5', 1015, 1025, 'memory', 1004, 'memory'],
  ['05', 1031, 1044, 'stored-as-F', 1021, 'memory', 1888, 1911],
  ['04', 1063, 1077, 'stored-as-F', 1046, 'memory', 1945, 1971],
  ['03', 1086, 1104, 'stored-as-F', 1071, 'memory', 1987, 2019],
  ['02', 1102, 1122, 'stored-as-F', 1078, 'memory', 2016, 2052],
  ['01', 1119, 1138, 'stored-as-F', 1093, 'memory', 2046, 2080],
  ['1', 1137, 1154, 'stored-as-F', 1109, 'memory', 2079, 2109],
  ['2', 1142, 1164, 'stored-as-F', 1112, 'memory', 2088, 2127],
  ['3', 1152, 1170, 'stored-as-F', 1115, 'memory', 2106, 2138],
  ['4', 1162, 1183, 'stored-as-F', 1141, 'memory', 2124, 2161],
  ['5', 1186, 1207, 'stored-as-F', 1159, 'memory', 2167, 2205],
  ['5.5', 1203, 1225, 'memory', 1167, 'memory'],
  ['6', 1222, 1243, 'stored-as-F', 1185, 'stored-as-F', 2232, 2269, 2165],
  ['7', 1239, 1257, 'stored-as-F', 1201, 'memory', 2262, 2295],
  ['8', 1249, 1271, 'stored-as-F', 1211, 'memory', 2280, 2320],
  ['9', 1260, 1280, 'stored-as-F', 1224, 'memory', 2300, 2336],
  ['10', 1285, 1305, 'stored-as-F', 1251, 'memory', 2345, 2381],
  ['11', 1294, 1315, 'memory', 1272, 'memory'],
  ['12', 1306, 1326, 'memory', 1285, 'memory'],
  ['13', 1331, 1348, 'stored', 1310, 'memory'],
  ['14', 1365, 1384, 'memory', 1351, 'memory'],
];

/** One line of the chart; `at15_C` means: end point when heated at 15 °C/h. */
export interface ChartCone {
  readonly cone: string;
  readonly at60_C: number;
  readonly at150_C: number;
  readonly standing: Standing;
  readonly at15_C: number | undefined;
  readonly standing15: Standing | undefined;
  readonly at27_F: number | undefined;
  readonly at108_F: number | undefined;
  readonly at270_F: number | undefined;
}

/** From the softest to the hardest. */
export const CONE_CHART: readonly ChartCone[] = ROWS.map(
  ([cone, at60_C, at150_C, standing, at15_C, standing15, at108_F, at270_F, at27_F]) => ({
    cone,
    at60_C,
    at150_C,
    standing,
    at15_C,
    standing15,
    at27_F,
    at108_F,
    at270_F,
  }),
);

export const chartCone = (cone: string): ChartCone | undefined => CONE_CHART.find((c) => c.cone === cone);
