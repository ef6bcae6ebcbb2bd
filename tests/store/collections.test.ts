import { describe, expect, it } from 'vitest';
import { AlreadyExists, InvalidDocument, NotFound, StaleVersion } from '../../src/store/store.ts';
import { DeskException } from '../../src/trade/model/desk-exception.ts';
import type { AirZoneId, CoatingId, EquipmentId, RecipeId, ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase, STORED_AT } from './fresh-database.ts';
import {
  aCoating,
  aJob,
  anAirZone,
  anEquipment,
  aPlace,
  aRecipe,
  aShop,
  aTechnician,
  at,
  jobId,
  placeId,
  stockedShop,
  technicianId,
} from './samples.ts';

onEachDatabase('a document', (given) => {
  it('comes back as it went in, whatever its kind', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const coating = aCoating('glaze');
    await store.coatings.put(shopId, coating, 'new');
    const recipe = aRecipe('coat', 'glaze');
    await store.recipes.put(shopId, recipe, 'new');
    const technician = aTechnician('bo', { certificates: [{ coatingId: 'glaze', expiresOn: '2027-01-31' }] });
    await store.technicians.put(shopId, technician, 'new');
    const lamp = anEquipment('lamp', { airZoneId: 'hall' });
    await store.equipment.put(shopId, lamp, 'new');
    const place = aPlace('yard', { kind: 'parking', blockedBy: ['bay1'], airZoneId: null });
    await store.places.put(shopId, place, 'new');
    const exception = DeskException.parse({
      id: 'x1',
      kind: 'promiseAtRisk',
      jobId: 'j1',
      text: 'The dust has not settled.',
      raisedAt: at(1),
      acknowledgedAt: null,
      acknowledgedBy: null,
    });
    await store.deskExceptions.put(shopId, exception, 'new');

    expect((await store.coatings.get(shopId, coating.id))?.value).toEqual(coating);
    expect((await store.recipes.get(shopId, recipe.id))?.value).toEqual(recipe);
    expect((await store.technicians.get(shopId, technician.id))?.value).toEqual(technician);
    expect((await store.equipment.get(shopId, lamp.id))?.value).toEqual(lamp);
    expect((await store.places.get(shopId, place.id))?.value).toEqual(place);
    expect((await store.airZones.get(shopId, 'hall' as AirZoneId))?.value).toEqual(anAirZone('hall'));
    expect((await store.deskExceptions.get(shopId, exception.id))?.value).toEqual(exception);
    expect((await store.shops.get(shopId))?.value).toEqual(aShop(shopId));
  });

  it('carries a version that grows with each write, and the time of it', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const first = await store.places.put(shopId, aPlace('bay3'), 'new');
    const second = await store.places.put(shopId, aPlace('bay3', { name: 'Wash bay' }), 1);
    expect([first.version, second.version]).toEqual([1, 2]);
    expect(second.updatedAt).toBe(STORED_AT);
    expect((await store.places.get(shopId, placeId('bay3')))?.value.name).toBe('Wash bay');
  });

  it('is not written by one who read an older version', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.places.put(shopId, aPlace('bay1', { name: 'A' }), 1);
    const late = store.places.put(shopId, aPlace('bay1', { name: 'B' }), 1);
    await expect(late).rejects.toBeInstanceOf(StaleVersion);
    await expect(late).rejects.toMatchObject({ expected: 1, actual: 2 });
    await expect(store.places.delete(shopId, placeId('bay1'), 1)).rejects.toBeInstanceOf(StaleVersion);
    expect((await store.places.get(shopId, placeId('bay1')))?.value.name).toBe('A');
  });

  it('goes to exactly one of two who write the version both have read', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    const outcomes = await Promise.allSettled([
      store.jobs.put(shopId, aJob('j1', { notes: 'one' }), 1),
      other.jobs.put(shopId, aJob('j1', { notes: 'two' }), 1),
    ]);
    expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
    expect((await store.jobs.get(shopId, jobId('j1')))?.version).toBe(2);
  });

  it('is made only where none is, and changed only where one is', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await expect(store.places.put(shopId, aPlace('bay1'), 'new')).rejects.toBeInstanceOf(AlreadyExists);
    await expect(store.places.put(shopId, aPlace('bay9'), 3)).rejects.toBeInstanceOf(NotFound);
    await expect(store.places.delete(shopId, placeId('bay9'), 'any')).rejects.toBeInstanceOf(NotFound);
    await expect(store.shops.put(aShop(shopId), 'new')).rejects.toBeInstanceOf(AlreadyExists);
    expect((await store.places.put(shopId, aPlace('bay1'), 'any')).version).toBe(2);
  });

  it('belongs to its shop: the same id elsewhere is another one', async () => {
    const { store } = given();
    const here = await stockedShop(store);
    const there = await stockedShop(store);
    await store.places.put(here, aPlace('bay1', { name: 'Here' }), 1);
    expect((await store.places.get(there, placeId('bay1')))?.value.name).toBe('Bay bay1');
    expect((await store.places.list(there)).map((each) => each.value.id)).toEqual(['bay1', 'bay2']);
  });

  it('is refused with the field named when its model refuses it', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const wrong = store.places.put(shopId, { ...aPlace('bay4'), maxLengthMm: -1 }, 'new');
    await expect(wrong).rejects.toBeInstanceOf(InvalidDocument);
    await expect(wrong).rejects.toMatchObject({ problems: [{ field: 'maxLengthMm' }] });
  });
});

onEachDatabase('a reference', (given) => {
  it('to something that is not there is refused, naming the field', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const refused: [() => Promise<unknown>, string][] = [
      [() => store.places.put(shopId, aPlace('x', { airZoneId: 'attic' }), 'new'), 'airZoneId'],
      [() => store.places.put(shopId, aPlace('x', { blockedBy: ['bay1', 'bay9'] }), 'new'), 'blockedBy.1'],
      [() => store.equipment.put(shopId, anEquipment('x', { airZoneId: 'attic' }), 'new'), 'airZoneId'],
      [() => store.recipes.put(shopId, aRecipe('x', 'nothing'), 'new'), 'steps.0.coatingId'],
      [
        () =>
          store.technicians.put(
            shopId,
            aTechnician('x', { certificates: [{ coatingId: 'nothing', expiresOn: '2027-01-01' }] }),
            'new',
          ),
        'certificates.0.coatingId',
      ],
      [() => store.jobs.put(shopId, aJob('x', { recipeId: 'nothing' }), 'new'), 'recipeId'],
      [
        () => store.jobs.put(shopId, aJob('x', { arranged: { dropOffBy: null, pickupBy: 'nobody' } }), 'new'),
        'arranged.pickupBy',
      ],
      [() => store.airZones.put('nowhere' as ShopId, anAirZone('x'), 'new'), 'shopId'],
    ];
    for (const [put, field] of refused) await expect(put()).rejects.toMatchObject({ code: 'unknownReference', field });
  });

  it('keeps what it points to from being deleted, naming who points', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.coatings.put(shopId, aCoating('glaze'), 'new');
    await store.recipes.put(shopId, aRecipe('coat', 'glaze'), 'new');
    await store.equipment.put(shopId, anEquipment('lamp', { airZoneId: 'hall' }), 'new');
    await store.places.put(shopId, aPlace('yard', { blockedBy: ['bay2'] }), 'new');
    await store.jobs.put(shopId, aJob('j1', { arranged: { dropOffBy: 'ann', pickupBy: null } }), 'any');
    const by = (...kinds: string[]) => ({ code: 'stillReferenced', by: kinds });
    await expect(store.coatings.delete(shopId, 'glaze' as CoatingId, 1)).rejects.toMatchObject(by('recipe'));
    await expect(store.recipes.delete(shopId, 'wash' as RecipeId, 1)).rejects.toMatchObject(by('job'));
    await expect(store.airZones.delete(shopId, 'hall' as AirZoneId, 1)).rejects.toMatchObject(by('place', 'equipment'));
    await expect(store.places.delete(shopId, placeId('bay2'), 1)).rejects.toMatchObject(by('place'));
    await expect(store.technicians.delete(shopId, technicianId('ann'), 1)).rejects.toMatchObject(by('job'));
    await expect(store.shops.delete(shopId, 1)).rejects.toMatchObject({ code: 'stillReferenced' });
  });

  it('that is given up sets free what it pointed to', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.coatings.put(shopId, aCoating('glaze'), 'new');
    await store.recipes.put(shopId, aRecipe('coat', 'glaze'), 'new');
    await store.recipes.put(shopId, aRecipe('coat', null), 1);
    await store.coatings.delete(shopId, 'glaze' as CoatingId, 1);
    await store.recipes.delete(shopId, 'coat' as RecipeId, 2);
    await store.equipment.put(shopId, anEquipment('lamp'), 'new');
    await store.equipment.delete(shopId, 'lamp' as EquipmentId, 1);
    expect(await store.coatings.list(shopId)).toEqual([]);
    expect(await store.equipment.list(shopId)).toEqual([]);
  });

  it('of a shop to itself is none: an empty shop can go', async () => {
    const { store } = given();
    const shop = aShop('empty');
    await store.shops.put(shop, 'new');
    await store.outbox.append(shop.id, { kind: 'shop.made', subject: shop.id, at: at(0), body: {} });
    await store.shops.delete(shop.id, 1);
    expect(await store.shops.get(shop.id)).toBeNull();
  });
});

describe('tandem places', () => {
  onEachDatabase('two places that block each other', (given) => {
    it('are told so once both are there', async () => {
      const { store } = given();
      const shopId = await stockedShop(store);
      await store.places.put(shopId, aPlace('bay1', { blockedBy: ['bay2'] }), 1);
      await store.places.put(shopId, aPlace('bay2', { blockedBy: ['bay1'] }), 1);
      await expect(store.places.delete(shopId, placeId('bay1'), 2)).rejects.toMatchObject({ by: ['place'] });
    });
  });
});
