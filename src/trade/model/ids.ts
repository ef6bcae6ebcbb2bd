import { z } from 'zod';

/** Identifiers are opaque strings; a brand keeps a shop's id from being passed for a job's. */
const id = z
  .string()
  .min(1)
  .max(64)
  .regex(/^[A-Za-z0-9_-]+$/, 'letters, digits, "-" and "_" only');

export const ShopId = id.brand<'ShopId'>();
export type ShopId = z.infer<typeof ShopId>;
export const PlaceId = id.brand<'PlaceId'>();
export type PlaceId = z.infer<typeof PlaceId>;
export const AirZoneId = id.brand<'AirZoneId'>();
export type AirZoneId = z.infer<typeof AirZoneId>;
export const TechnicianId = id.brand<'TechnicianId'>();
export type TechnicianId = z.infer<typeof TechnicianId>;
export const EquipmentId = id.brand<'EquipmentId'>();
export type EquipmentId = z.infer<typeof EquipmentId>;
export const CoatingId = id.brand<'CoatingId'>();
export type CoatingId = z.infer<typeof CoatingId>;
export const RecipeId = id.brand<'RecipeId'>();
export type RecipeId = z.infer<typeof RecipeId>;
export const JobId = id.brand<'JobId'>();
export type JobId = z.infer<typeof JobId>;
export const DeskExceptionId = id.brand<'DeskExceptionId'>();
export type DeskExceptionId = z.infer<typeof DeskExceptionId>;
export const PhotoId = id.brand<'PhotoId'>();
export type PhotoId = z.infer<typeof PhotoId>;
export const AccountId = id.brand<'AccountId'>();
export type AccountId = z.infer<typeof AccountId>;
export const DeviceId = id.brand<'DeviceId'>();
export type DeviceId = z.infer<typeof DeviceId>;
export const TokenId = id.brand<'TokenId'>();
export type TokenId = z.infer<typeof TokenId>;
/** An operation of a job: the recipe step's key, with `.2` and so on for its repetitions. Unique in its job. */
export const OperationKey = z.string().min(1).max(96).brand<'OperationKey'>();
export type OperationKey = z.infer<typeof OperationKey>;
