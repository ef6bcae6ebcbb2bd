import type { DataSheet } from '../model/coating.ts';
import { dewPointC } from './dew-point.ts';

export interface ConditionsReason {
  readonly text: string;
  readonly limit: number;
  readonly value: number;
}

export interface ConditionsVerdict {
  readonly fit: boolean;
  /** Every limit that is broken, with its figures. */
  readonly reasons: readonly ConditionsReason[];
}

/** What a verdict needs of a reading, a forecast or a set point. A panel not measured counts as warm as the air. */
export interface JudgedConditions {
  readonly airTempC: number;
  readonly relativeHumidityPercent: number;
  readonly panelTempC?: number | null | undefined;
}

/**
 * Whether a coating may be laid, or kept until water-safe: the sheet's limits of air temperature, humidity and panel
 * temperature, and the panel's margin above dew point (ISO 8502-4: at least 3 K).
 */
export function judgeConditions(sheet: DataSheet, reading: JudgedConditions): ConditionsVerdict {
  const { airTempC, relativeHumidityPercent: humidity } = reading;
  const panelTempC = reading.panelTempC ?? airTempC;
  // Air is never without any water; the dew point of 0 % does not exist.
  const dewC = dewPointC(airTempC, Math.max(humidity, 0.1));
  const marginK = panelTempC - dewC;
  const reasons: ConditionsReason[] = [];
  const atLeast = (what: string, value: number, limit: number, unit: string) => {
    if (value < limit)
      reasons.push({ text: `${what} ${say(value)} ${unit}, at least ${say(limit)} ${unit}`, limit, value });
  };
  const atMost = (what: string, value: number, limit: number, unit: string) => {
    if (value > limit)
      reasons.push({ text: `${what} ${say(value)} ${unit}, at most ${say(limit)} ${unit}`, limit, value });
  };
  atLeast('air', airTempC, sheet.minAirTempC, '°C');
  atMost('air', airTempC, sheet.maxAirTempC, '°C');
  atLeast('humidity', humidity, sheet.minRelativeHumidityPercent, '%');
  atMost('humidity', humidity, sheet.maxRelativeHumidityPercent, '%');
  atMost('panel', panelTempC, sheet.maxPanelTempC, '°C');
  atLeast(`panel ${say(panelTempC)} °C over dew point ${say(dewC)} °C: margin`, marginK, sheet.minDewPointMarginK, 'K');
  return { fit: reasons.length === 0, reasons };
}

const say = (value: number): string => String(Math.round(value * 10) / 10);
