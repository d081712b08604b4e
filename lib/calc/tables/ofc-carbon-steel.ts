// Manual and machine oxyfuel cutting of clean low-carbon steel, not preheated.
// Source: AWS Welding Handbook, 8th ed., vol. 2, oxygen-cutting chapter, table of data for cutting clean
// low-carbon steel (number believed 14.4). FROM MEMORY: no row has been checked against the print.
// Fuel is the preheat fuel; oxygen is the cutting jet only. High flow and low speed belong to hand work,
// low flow and high speed to machines. The table has no pressures and no kerf widths.
import type { TipChart } from './tip-chart'

export const OFC_CARBON_STEEL: TipChart = {
  id: 'ofc-carbon-steel-us-handbook',
  title: 'Oxyfuel cutting of clean low-carbon steel, hand and machine',
  source:
    'AWS Welding Handbook, 8th ed., vol. 2, oxygen-cutting chapter (table number believed 14.4)',
  provenance: 'from memory',
  materials: ['carbon_steel', 'low_alloy_steel'],
  rows: [
    {
      thicknessIn: 0.125,
      orificeIn: [0.02, 0.04],
      speedInPerMin: [16, 32],
      cuttingOxygenFt3PerH: [15, 45],
      fuelFt3PerH: { acetylene: [3, 9], natural_gas: [9, 25], propane: [3, 10] },
    },
    {
      thicknessIn: 0.25,
      orificeIn: [0.03, 0.06],
      speedInPerMin: [16, 26],
      cuttingOxygenFt3PerH: [30, 55],
      fuelFt3PerH: { acetylene: [3, 9], natural_gas: [9, 25], propane: [5, 12] },
    },
    {
      thicknessIn: 0.375,
      orificeIn: [0.03, 0.06],
      speedInPerMin: [15, 24],
      cuttingOxygenFt3PerH: [40, 70],
      fuelFt3PerH: { acetylene: [6, 12], natural_gas: [10, 25], propane: [5, 15] },
    },
    {
      thicknessIn: 0.5,
      orificeIn: [0.04, 0.06],
      speedInPerMin: [12, 23],
      cuttingOxygenFt3PerH: [55, 85],
      fuelFt3PerH: { acetylene: [6, 12], natural_gas: [15, 30], propane: [5, 15] },
    },
    {
      thicknessIn: 0.75,
      orificeIn: [0.045, 0.06],
      speedInPerMin: [12, 21],
      cuttingOxygenFt3PerH: [100, 150],
      fuelFt3PerH: { acetylene: [7, 14], natural_gas: [15, 30], propane: [6, 18] },
    },
    {
      thicknessIn: 1,
      orificeIn: [0.045, 0.06],
      speedInPerMin: [9, 18],
      cuttingOxygenFt3PerH: [110, 160],
      fuelFt3PerH: { acetylene: [7, 14], natural_gas: [18, 35], propane: [6, 18] },
    },
    {
      thicknessIn: 1.5,
      orificeIn: [0.06, 0.08],
      speedInPerMin: [6, 14],
      cuttingOxygenFt3PerH: [110, 175],
      fuelFt3PerH: { acetylene: [8, 16], natural_gas: [18, 35], propane: [8, 20] },
    },
    {
      thicknessIn: 2,
      orificeIn: [0.06, 0.08],
      speedInPerMin: [6, 13],
      cuttingOxygenFt3PerH: [130, 190],
      fuelFt3PerH: { acetylene: [8, 16], natural_gas: [20, 40], propane: [8, 20] },
    },
    {
      thicknessIn: 3,
      orificeIn: [0.065, 0.085],
      speedInPerMin: [4, 11],
      cuttingOxygenFt3PerH: [190, 300],
      fuelFt3PerH: { acetylene: [9, 20], natural_gas: [20, 40], propane: [9, 22] },
    },
    {
      thicknessIn: 4,
      orificeIn: [0.08, 0.09],
      speedInPerMin: [4, 10],
      cuttingOxygenFt3PerH: [240, 360],
      fuelFt3PerH: { acetylene: [9, 20], natural_gas: [20, 40], propane: [9, 24] },
    },
    {
      thicknessIn: 5,
      orificeIn: [0.08, 0.095],
      speedInPerMin: [4, 8],
      cuttingOxygenFt3PerH: [270, 360],
      fuelFt3PerH: { acetylene: [10, 24], natural_gas: [25, 50], propane: [10, 25] },
    },
    {
      thicknessIn: 6,
      orificeIn: [0.095, 0.105],
      speedInPerMin: [3, 7],
      cuttingOxygenFt3PerH: [260, 500],
      fuelFt3PerH: { acetylene: [10, 24], natural_gas: [25, 50], propane: [10, 30] },
    },
    {
      thicknessIn: 8,
      orificeIn: [0.095, 0.11],
      speedInPerMin: [3, 5],
      cuttingOxygenFt3PerH: [460, 620],
      fuelFt3PerH: { acetylene: [15, 30], natural_gas: [30, 55], propane: [15, 32] },
    },
    {
      thicknessIn: 10,
      orificeIn: [0.095, 0.11],
      speedInPerMin: [2, 4],
      cuttingOxygenFt3PerH: [580, 700],
      fuelFt3PerH: { acetylene: [15, 35], natural_gas: [35, 70], propane: [15, 35] },
    },
    {
      thicknessIn: 12,
      orificeIn: [0.11, 0.13],
      speedInPerMin: [2, 4],
      cuttingOxygenFt3PerH: [720, 850],
      fuelFt3PerH: { acetylene: [20, 40], natural_gas: [45, 95], propane: [20, 45] },
    },
  ],
}
