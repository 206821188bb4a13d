using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Formats.Csv;
using Plaque = Acquire.Domain.Trust.Plaque;

namespace Acquire.Bench.Trust;

/// <summary>The plaques and calibration checks in the store.</summary>
public sealed class CheckBook(AcquireStore store, TimeProvider time)
{
    private readonly RepeatabilityBook _tests = new(store);

    /// <summary>Looks a plaque up.</summary>
    /// <exception cref="BenchException">There is no such plaque; the message lists those there are.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<Plaque> GetPlaqueAsync(string name, CancellationToken cancellationToken)
    {
        if (await store.FindPlaqueAsync(name, cancellationToken) is { } plaque)
        {
            return plaque;
        }

        var known = (await store.ListPlaquesAsync(cancellationToken)).Select(p => p.Name).ToList();
        var has = known.Count == 0 ? "the store has none yet" : $"the store has {string.Join(", ", known)}";
        throw new BenchException(
            $"There is no plaque {name}; {has}. Add it first: acquire plaque add NAME --patch \"low 0.05 0.06 0.07\" …") { IsNotThere =
                true };
    }

    /// <exception cref="BenchException">There is no patch, or one, a channel or the day cannot be read.</exception>
    /// <exception cref="ImpossibleValueException">A value cannot be.</exception>
    /// <exception cref="StoreException">The store cannot be used, or has such a plaque.</exception>
    public async Task<Plaque> AddPlaqueAsync(PlaqueRequest request, CancellationToken cancellationToken)
    {
        var plaque = request.Make();
        await store.AddPlaqueAsync(plaque, cancellationToken);
        return plaque;
    }

    /// <summary>All plaques, each with its last check.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<ListedPlaque>> ListPlaquesAsync(CancellationToken cancellationToken)
    {
        var checks = await store.ListChecksAsync(cancellationToken);
        return [.. (await store.ListPlaquesAsync(cancellationToken))
            .Select(p => new ListedPlaque(p, checks.LastOrDefault(c => c.Plaque.Name == p.Name)))];
    }

    /// <summary>Judges and keeps a check whose readings were taken elsewhere.</summary>
    /// <param name="instrument">The instrument they are of; null where it is not known: then the check counts for every one.</param>
    /// <param name="by">Who enters them.</param>
    /// <exception cref="BenchException">The plaque is unknown, or the reads are not of its patches.</exception>
    /// <exception cref="ImportException">A number is no density.</exception>
    /// <exception cref="GaugeException">The readings fall where the plaque rises.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<JudgedCheck> EnterAsync(
        string plaqueName,
        IReadOnlyCollection<ImportedRead> reads,
        InstrumentInUse? instrument,
        string by,
        CancellationToken cancellationToken)
    {
        var plaque = await GetPlaqueAsync(plaqueName, cancellationToken);
        var now = time.GetUtcNow();
        var provenance = new Provenance(now, by, instrument);
        var judged = await JudgeAsync(plaque, CheckReads.Of(plaque, reads, now), provenance, null, cancellationToken);
        await store.AddCheckAsync(judged.Check, cancellationToken);
        return judged;
    }

    /// <summary>All checks in the order of reading, each judged by the scatter that was known when it was made.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<JudgedCheck>> ListAsync(CancellationToken cancellationToken)
    {
        var known = await _tests.KnownAsync(cancellationToken);
        return [.. (await store.ListChecksAsync(cancellationToken))
            .Select(c => new JudgedCheck(c, Judge(c.Plaque, c.Patches, c.Provenance, known)))];
    }

    /// <summary>Whether a check is in force now for readings with an instrument.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<CheckStanding> StandingAsync(string instrument, CancellationToken cancellationToken)
    {
        var now = time.GetUtcNow();
        return CheckStanding.Of(await store.LastCheckAsync(instrument, now, cancellationToken), now, instrument);
    }

    /// <summary>Makes a check of readings, with what it tells.</summary>
    internal async Task<JudgedCheck> JudgeAsync(
        Plaque plaque, ImmutableArray<PatchReads> patches, Provenance provenance, Guid? session, CancellationToken cancellationToken)
    {
        var report = Judge(plaque, patches, provenance, await _tests.KnownAsync(cancellationToken));
        return new JudgedCheck(
            new CalibrationCheck(
                Guid.CreateVersion7(time.GetUtcNow()), plaque, patches, CheckJudge.Passes(plaque, report), provenance, session), report);
    }

    // By the moment of the check, so that it is judged alike whenever it is looked at.
    private static CalibrationReport Judge(Plaque plaque, ImmutableArray<PatchReads> patches, Provenance provenance, KnownScatter known) =>
        CheckJudge.Judge(plaque, patches, known.At(provenance.At, provenance.Instrument?.Name));
}

/// <param name="Last">Its last check; null when there was none.</param>
public sealed record ListedPlaque(Plaque Plaque, CalibrationCheck? Last);

/// <summary>A calibration check with what it tells.</summary>
public sealed record JudgedCheck(CalibrationCheck Check, CalibrationReport Report) : KeptReading
{
    public override bool Holds => Check.Passed;
}

/// <summary>Judges the reads of a plaque by its certified values.</summary>
public static class CheckJudge
{
    /// <summary>What the reads tell.</summary>
    /// <param name="known">The scatter of one read from a repeatability test; pooled with what repeats of the patches show.</param>
    /// <exception cref="GaugeException">No read counts, or the readings fall where the plaque rises.</exception>
    public static CalibrationReport Judge(
        Plaque plaque, ImmutableArray<PatchReads> patches, IReadOnlyDictionary<Channel, PooledDeviation>? known = null) =>
        CalibrationAssessment.Of(plaque, RepeatabilityData.Of(patches), known);

    /// <summary>
    /// Whether the check is passed: every certified patch was read, and every mean lies inside the tolerance by plain comparison. The
    /// uncertainty says how sure that is; were it to decide, a plaque with a wide certificate could never be passed.
    /// </summary>
    public static bool Passes(Plaque plaque, CalibrationReport report) =>
        plaque.Channels.All(
            c => report[c] is { } channel && channel.Patches.Length == plaque.Patches.Length && channel.Patches.All(p => p.IsInside));
}

/// <summary>Asks before a strip is read whether the instrument has proved itself.</summary>
public sealed class CheckGate(AcquireStore store, CheckBook book)
{
    private const string WhatToDo = "Check the instrument first: acquire check --plaque NAME --instrument NAME";

    /// <summary>Gives the check in force or why there is none, for the strip's record, and what to tell the user.</summary>
    /// <param name="required">
    /// What is required; null where the user never said: then users with a plaque are told, others are left in peace.
    /// </param>
    /// <param name="instrument">Name of the instrument.</param>
    /// <exception cref="BenchException">A check is required and none is in force.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<CheckPass> PassAsync(CheckRequirement? required, string instrument, CancellationToken cancellationToken)
    {
        var (inForce, lacking) = await book.StandingAsync(instrument, cancellationToken);
        if (lacking is null)
        {
            return new CheckPass(inForce?.Id);
        }

        if (required is null && (await store.ListPlaquesAsync(cancellationToken)).Count == 0)
        {
            return new CheckPass(null);
        }

        return required switch
        {
            CheckRequirement.Block => throw new BenchException($"The strip is not read: {lacking}. {WhatToDo}"),
            CheckRequirement.Mark => new CheckPass(null, lacking, $"The strip will be marked: {lacking}. {WhatToDo}"),
            _ => new CheckPass(null, null, $"Take care: {lacking}. {WhatToDo}"),
        };
    }
}

/// <summary>What the record of a strip says of the instrument's check.</summary>
/// <param name="CheckId">The check in force; null when there is none.</param>
/// <param name="Lacking">Why none is in force, where the strip is to be marked so; null otherwise.</param>
/// <param name="Warning">What to tell the user; null for nothing.</param>
public sealed record CheckPass(Guid? CheckId, string? Lacking = null, string? Warning = null);

/// <summary>What happens to strips that are read without a calibration check in force.</summary>
public enum CheckRequirement
{
    /// <summary>The user is told.</summary>
    Warn,

    /// <summary>The user is told, and the record says why no check was in force.</summary>
    Mark,

    /// <summary>They are not read.</summary>
    Block,
}

/// <summary>Whether a calibration check is in force.</summary>
/// <param name="InForce">The check; null when none is in force.</param>
/// <param name="Lacking">Why none is, in words; null when one is.</param>
public sealed record CheckStanding(CalibrationCheck? InForce, string? Lacking)
{
    public static CheckStanding Of(CalibrationCheck? last, DateTimeOffset now, string instrument) => last switch
    {
        null => new CheckStanding(null, $"no calibration check was made with {instrument} yet"),
        { Passed: false } => new CheckStanding(null, $"the last calibration check, of {Numbers.Day(last.Provenance.At)}, failed"),
        // A check lasts to its due date and no longer: afterwards nothing says that the zero has stayed where it was.
        _ when now >= last.DueAt => new CheckStanding(
            null, $"the last calibration check is of {Numbers.Day(last.Provenance.At)}, and the next was due on {Numbers.Day(last.DueAt)}"),
        _ => new CheckStanding(last, null),
    };
}
