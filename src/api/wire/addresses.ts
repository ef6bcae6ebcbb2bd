import { z } from 'zod';
import { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';

/** Parameters of addresses. */
export const OfShop = z.object({ shopId: ShopId });
export const OfJob = z.object({ shopId: ShopId, jobId: JobId });
export const OfOperation = z.object({ shopId: ShopId, jobId: JobId, operation: OperationKey });
export const OfTechnician = z.object({ shopId: ShopId, technicianId: TechnicianId });
