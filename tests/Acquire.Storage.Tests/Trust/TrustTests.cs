namespace Acquire.Storage.Tests.Trust;

public sealed class TrustTests : StoreFixture
{
    [Fact]
    public async Task Plaque_comes_back_as_it_was_after_reopening()
    {
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        await ReopenAsync();

        Deep.Equal(Some.Plaque, await Store.FindPlaqueAsync("BENCH plaque", Token));
        Deep.Equal(new[] { Some.Plaque }, (await Store.ListPlaquesAsync(Token)).ToArray());
        Assert.Null(await Store.FindPlaqueAsync("other", Token));
    }

    [Fact]
    public async Task Plaque_of_a_name_that_is_there_is_refused()
    {
        await Store.AddPlaqueAsync(Some.Plaque, Token);

        Assert.Equal(StoreFault.Duplicate, await FaultAsync(() => Store.AddPlaqueAsync(Some.Plaque, Token)));
    }

    [Fact]
    public async Task Check_comes_back_with_every_read_and_raw_line()
    {
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var session = Some.Session() with { Kind = SessionKind.CalibrationCheck, LotCode = null, PlaqueName = Some.Plaque.Name };
        await Store.BeginSessionAsync(session, Token);
        var check = Some.Check(session: session.Id);
        await Store.AddCheckAsync(check, Token);
        await ReopenAsync();

        Deep.Equal(new[] { check }, (await Store.ListChecksAsync(Token)).ToArray());
        Deep.Equal(session, (await Store.FindSessionAsync(session.Id, Token))!.Session);
    }

    [Fact]
    public async Task LastCheck_is_the_one_read_last_until_the_moment_in_whatever_order_they_came()
    {
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var late = Some.Check(Some.Evening.AddDays(40), passed: false);
        var early = Some.Check();
        await Store.AddCheckAsync(late, Token);
        await Store.AddCheckAsync(early, Token);

        Assert.Null(await Store.LastCheckAsync(Some.Instrument.Name, Some.Evening.AddSeconds(-1), Token));
        Assert.Equal(early.Id, (await Store.LastCheckAsync(Some.Instrument.Name, Some.Evening.AddDays(39), Token))!.Id);
        Assert.Equal(late.Id, (await Store.LastCheckAsync(Some.Instrument.Name, Some.Evening.AddDays(41), Token))!.Id);
        Assert.Null(await Store.LastCheckAsync("another profile", Some.Evening.AddDays(41), Token));
        Assert.Equal([early.Id, late.Id], (await Store.ListChecksAsync(Token)).Select(c => c.Id));
    }

    [Fact]
    public async Task Test_comes_back_with_every_read_and_raw_line()
    {
        var session = Some.Session() with { Kind = SessionKind.Repeatability, LotCode = null };
        await Store.BeginSessionAsync(session, Token);
        var test = Some.Test(session.Id);
        await Store.AddRepeatabilityTestAsync(test, Token);
        await ReopenAsync();

        Deep.Equal(new[] { test }, (await Store.ListRepeatabilityTestsAsync(Token)).ToArray());
    }

    [Fact]
    public async Task Recheck_comes_back_and_leaves_the_reference_in_force()
    {
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => Store.AddRecheckAsync(Some.Recheck(), Token)));
        await Store.AddLotAsync(Some.Lot, Token);
        var reference = Some.Reference();
        await Store.AddReferenceAsync(reference, Token);
        var session = Some.Session() with { Kind = SessionKind.LotReference };
        await Store.BeginSessionAsync(session, Token);
        var (late, early) = (Some.Recheck(Some.Evening.AddDays(9)), Some.Recheck(session: session.Id));
        await Store.AddRecheckAsync(late, Token);
        await Store.AddRecheckAsync(early, Token);
        await ReopenAsync();

        Deep.Equal(new[] { early, late }, (await Store.ListRechecksAsync("a1207", Token)).ToArray());
        Assert.Equal(reference.Id, (await Store.CurrentReferenceAsync(Some.Lot.Code, Token))!.Id);
    }

    [Fact]
    public async Task Records_of_any_reads_come_back() => await Gen.Select(
        Gens.Layout.SelectMany(Gens.Patches), Gens.Provenance, Gens.Id, Gen.Bool, Gen.Int[1, 9]).SampleAsync(
        async (patches, provenance, id, passed, count) =>
        {
            if (!patches.Any(p => p.Accepted.Any()))
            {
                return;
            }

            var test = new RepeatabilityTest(id, patches, count, 0.01, passed, provenance);
            await Store.AddRepeatabilityTestAsync(test, Token);
            Deep.Equal(test, (await Store.ListRepeatabilityTestsAsync(Token)).Single(t => t.Id == id));
        }, iter: 20, threads: 1);

    [Fact]
    public async Task What_refers_to_nothing_is_refused()
    {
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => Store.AddCheckAsync(Some.Check(), Token)));
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => Store.AddCheckAsync(Some.Check(session: Guid.NewGuid()), Token)));
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => Store.AddRepeatabilityTestAsync(Some.Test(Guid.NewGuid()), Token)));
        var check = Some.Check();
        await Store.AddCheckAsync(check, Token);
        Assert.Equal(StoreFault.Duplicate, await FaultAsync(() => Store.AddCheckAsync(check, Token)));
        Assert.Equal(StoreFault.Refused, await FaultAsync(() => Store.BeginSessionAsync(Some.Session() with { LotCode = null }, Token)));
        Assert.Equal(StoreFault.Refused, await FaultAsync(
            () => Store.BeginSessionAsync(Some.Session() with { Kind = SessionKind.CalibrationCheck, LotCode = null }, Token)));
    }

    [Fact]
    public async Task Strip_carries_the_check_it_was_read_under()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var check = Some.Check();
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => Store.AddStripAsync(Some.Strip() with { CheckId = check.Id }, Token)));
        await Store.AddCheckAsync(check, Token);
        var under = Some.Strip() with { CheckId = check.Id };
        var lacking = Some.Strip() with { CheckLacking = "the last check failed" };
        await Store.AddStripAsync(under, Token);
        await Store.AddStripAsync(lacking, Token);

        Deep.Equal(under, await Store.FindStripAsync(under.Id.ToString(), Token));
        Deep.Equal(lacking, await Store.FindStripAsync(lacking.Id.ToString(), Token));
    }

    private static async Task<StoreFault> FaultAsync(Func<Task> act) => (await Assert.ThrowsAsync<StoreException>(act)).Fault;

    [Fact]
    public async Task Strip_comes_back_with_the_repeatability_it_rests_on()
    {
        var test = Some.Test();
        await Store.AddRepeatabilityTestAsync(test, Token);
        var strip = await AddStripAsync(test.Id);
        await ReopenAsync();

        Deep.Equal(strip.Repeatability, (await Store.FindStripAsync(strip.Id.ToString(), Token))!.Repeatability);
    }

    [Fact]
    public async Task Strip_that_rests_on_an_unknown_test_is_refused() =>
        Assert.Equal(StoreFault.NotFound, await FaultAsync(() => AddStripAsync(Guid.NewGuid())));

    private async Task<StripRecord> AddStripAsync(Guid test)
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip() with
        {
            Repeatability = new RepeatabilityInForce(test, [new(Channel.Red, 0.0062, 27), new(Channel.Blue, 0, 1)]),
        };
        await Store.AddStripAsync(strip, Token);
        return strip;
    }
}
