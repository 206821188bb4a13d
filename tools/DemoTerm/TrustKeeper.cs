using Acquire.Analysis.Gauge;
using Acquire.Bench.Lots;
using Acquire.Bench.Trust;
using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>Reads and keeps what shows how far the densitometer can be trusted: plaque, repeatability tests, reference strips.</summary>
internal sealed class TrustKeeper(AcquireStore store, LotBook lots, Desk desk, HistoryClock clock, HistoryIds ids)
{
    private const int TestReads = 10;
    private const double Specification = 0.010;
    private const double Certificate = 0.01;
    private const double Tolerance = 0.02;
    private const int DueDays = 7;

    private static readonly FilmNoise NoRun = FilmStories.Reference.Noise;

    private static readonly Acquire.Domain.Trust.Plaque Plaque = new(
        Places.Plaque,
        [
            new(new Patch("zero", "zero"), ChannelDensities.Rgb(0.00m, 0.00m, 0.00m), 0),
            new(new Patch("mid", "mid"), ChannelDensities.Rgb(1.02m, 1.05m, 1.10m), Certificate),
            new(new Patch("high", "high"), ChannelDensities.Rgb(2.95m, 3.01m, 3.05m), Certificate),
        ],
        Tolerance,
        DueDays,
        note: "in the drawer under the densitometer, in its sleeve");

    /// <summary>Enters the plaque.</summary>
    public Task AddPlaqueAsync(CancellationToken cancellationToken) => store.AddPlaqueAsync(Plaque, cancellationToken);

    /// <summary>Reads the plaque.</summary>
    /// <param name="by">Who.</param>
    /// <param name="zero">How far the instrument's zero is off, in density.</param>
    /// <param name="cancellationToken">Cancels.</param>
    public async Task CheckAsync(string by, double zero, CancellationToken cancellationToken)
    {
        var provenance = new Provenance(clock.Now, by, Desk.Instrument);
        var truth = Plaque.Patches.ToImmutableDictionary(
            p => p.Patch.Key,
            p => new Rgb(p.Certified.Red!.Value.ToDouble(), p.Certified.Green!.Value.ToDouble(), p.Certified.Blue!.Value.ToDouble())
                + Rgb.All(zero));
        var patches = desk.Read(Plaque.Layout.Patches, new FilmStrip(truth, NoRun with { Placement = 0.002, Reading = 0.004 }));
        var known = await new RepeatabilityBook(store).KnownAsync(cancellationToken);
        var report = CheckJudge.Judge(Plaque, patches, known.At(provenance.At, Desk.Instrument.Name));
        await store.AddCheckAsync(
            new CalibrationCheck(ids.Next(clock.Now), Plaque, patches, CheckJudge.Passes(Plaque, report), provenance), cancellationToken);
    }

    /// <summary>Tests how well LD and HD of a reference strip repeat.</summary>
    public async Task TestAsync(HistoryLot lot, string by, CancellationToken cancellationToken)
    {
        var provenance = new Provenance(clock.Now, by, Desk.Instrument);
        var patches = desk.Read(DemoFilm.Patches.Where(p => p.Key is DemoFilm.Low or DemoFilm.High), Reference(lot), TestReads);
        var report = RepeatabilityStudy.Of(RepeatabilityData.Of(patches), RepeatabilitySpecification.Same(Specification));
        await store.AddRepeatabilityTestAsync(
            new RepeatabilityTest(ids.Next(clock.Now), patches, 1, Specification, report.Passes, provenance), cancellationToken);
    }

    /// <summary>Reads the reference strip of a lot for its aims.</summary>
    public async Task ReadReferenceAsync(HistoryLot lot, string by, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(lot.Code, cancellationToken);
        var provenance = new Provenance(clock.Now, by, Desk.Instrument);
        var patches = desk.Read(entry.Lot.Layout.Patches, Reference(lot));
        await store.AddReferenceAsync(
            new LotReference(ids.Next(clock.Now), lot.Code, patches, provenance, Revision.First(by, clock.Now, "first reading of the lot")),
            cancellationToken);
    }

    /// <summary>Reads the reference strip of a lot again.</summary>
    public async Task RecheckAsync(HistoryLot lot, string by, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(lot.Code, cancellationToken);
        var provenance = new Provenance(clock.Now, by, Desk.Instrument);
        var patches = desk.Read(entry.Lot.Layout.Patches, Reference(lot));
        await store.AddRecheckAsync(new ReferenceRecheck(ids.Next(clock.Now), lot.Code, patches, provenance), cancellationToken);
    }

    /// <summary>Accepts the crossover from one lot to the next where their strips differ.</summary>
    public async Task AcceptCrossoverAsync(HistoryLot old, HistoryLot young, string by, string reason, CancellationToken cancellationToken)
    {
        var crossover = await new LotCrossover(store, lots, clock).CompareAsync(old.Code, young.Code, [], cancellationToken);
        if (crossover is { IsEnough: true, Agrees: false })
        {
            var entry = await lots.GetAsync(young.Code, cancellationToken);
            await store.AddAdjustmentAsync(
                new AimAdjustment(
                    ids.Next(clock.Now),
                    young.Code,
                    entry.Reference!.Id,
                    old.Code,
                    crossover.Proposal,
                    [.. crossover.Pairs.Select(p => new StripPair(p.Old.Id, p.New.Id))],
                    by,
                    clock.Now,
                    reason),
                cancellationToken);
        }
    }

    private static FilmStrip Reference(HistoryLot lot) => new(lot.Reference, NoRun);
}
