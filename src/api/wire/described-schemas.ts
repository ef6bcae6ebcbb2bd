import { z } from 'zod';
import { Coating } from '../../trade/model/coating.ts';
import { Inspection } from '../../trade/model/condition.ts';
import { Equipment } from '../../trade/model/equipment.ts';
import { Customer, FloorEvent, FloorFact, Job } from '../../trade/model/job.ts';
import { Technician } from '../../trade/model/people.ts';
import { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import { ConditionsReading } from '../../trade/model/readings.ts';
import { Recipe, RecipeStep } from '../../trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../trade/model/shop.ts';
import { DayException, WeeklyHours } from '../../trade/model/time.ts';
import { Vehicle } from '../../trade/model/vehicle.ts';
import { onTheWire } from './on-the-wire.ts';
import { ProblemDetails } from './problem.ts';

/** Schemas that stand in the OpenAPI document under a name of their own. */
export const describedSchemas = z.registry<{ id?: string | undefined; [key: string]: unknown }>();

const named = {
  Shop,
  AirZone,
  Place,
  Technician,
  Equipment,
  Coating,
  Recipe,
  RecipeStep,
  Vehicle,
  Customer,
  Inspection,
  Job,
  FloorFact,
  FloorEvent,
  Plan,
  PlannedOperation,
  PlannedStay,
  PlannedJob,
  ConditionsReading,
  WeeklyHours,
  DayException,
};
for (const [id, schema] of Object.entries(named)) describedSchemas.add(onTheWire<z.ZodType>(schema), { id });
describedSchemas.add(ProblemDetails, { id: 'Problem' });
