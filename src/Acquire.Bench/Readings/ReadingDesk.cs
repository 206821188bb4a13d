using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Readings;

/// <summary>
/// The face of everything that is read at the instrument: the desk of this program, or one that leads a session which another program
/// reads.
/// </summary>
public interface IReadingDesk
{
    Task<ReadingResult<KeptStrip>> ReadAsync(StripRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken);

    Task<ReadingResult<KeptReference>> ReadAsync(
        ReferenceRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken);

    Task<ReadingResult<RecheckReview>> ReadAsync(
        RecheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken);

    Task<ReadingResult<JudgedCheck>> ReadAsync(
        CheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken);

    Task<ReadingResult<KeptTest>> ReadAsync(
        RepeatabilityRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken);

    /// <inheritdoc cref="ReadingDesk.ResumeAsync(string?, LinkAddress?, BenchSeat, CancellationToken)"/>
    Task<ReadingResult<KeptReading>> ResumeAsync(
        string? idOrPart, LinkAddress? port, BenchSeat seat, CancellationToken cancellationToken);
}

/// <summary>
/// Everything that is read at the instrument, whatever it is for: asked for by a typed request, answered by what was kept. A command line
/// and a service ask it alike; what a person is to see on the way goes to the display of the seat.
/// </summary>
/// <remarks>
/// Every member throws <see cref="BenchException"/> when it cannot be read as asked, <see cref="LinkException"/> when the port cannot be
/// opened, <see cref="StoreException"/> when the session cannot be begun (nothing was read then), and
/// <see cref="Analysis.Gauge.GaugeException"/> when all was read and no record could be made of it, which stays in the session.
/// </remarks>
public sealed class ReadingDesk : IReadingDesk
{
    private readonly SessionBook _sessions;
    private readonly ReadingRunner _runner;
    private readonly StripReading _strip;
    private readonly ReferenceReading _reference;
    private readonly RecheckReading _recheck;
    private readonly CheckReading _check;
    private readonly RepeatabilityReading _repeatability;

    /// <summary>A desk whose readings open the port each for itself.</summary>
    public ReadingDesk(AcquireStore store, LotBook lots, ILinkOpener links, TimeProvider time, ILogger logger)
        : this(store, lots, new OwnLinks(links, time, logger), time, logger)
    {
    }

    public ReadingDesk(AcquireStore store, LotBook lots, IInstrumentLinks links, TimeProvider time, ILogger logger)
    {
        _sessions = new SessionBook(store, time);
        _runner = new ReadingRunner(store, links, time, logger);
        _strip = new StripReading(store, lots, time);
        _reference = new ReferenceReading(store, lots, time);
        _recheck = new RecheckReading(store, lots, time);
        _check = new CheckReading(new CheckBook(store, time));
        _repeatability = new RepeatabilityReading(new RepeatabilityEntry(store, time));
    }

    public Task<ReadingResult<KeptStrip>> ReadAsync(
        StripRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) =>
        ReadAsync(_strip, request, terms, seat, cancellationToken);

    public Task<ReadingResult<KeptReference>> ReadAsync(
        ReferenceRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) =>
        ReadAsync(_reference, request, terms, seat, cancellationToken);

    public Task<ReadingResult<RecheckReview>> ReadAsync(
        RecheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) =>
        ReadAsync(_recheck, request, terms, seat, cancellationToken);

    public Task<ReadingResult<JudgedCheck>> ReadAsync(
        CheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) =>
        ReadAsync(_check, request, terms, seat, cancellationToken);

    public Task<ReadingResult<KeptTest>> ReadAsync(
        RepeatabilityRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) =>
        ReadAsync(_repeatability, request, terms, seat, cancellationToken);

    /// <summary>
    /// Goes on with a session that was broken off, whatever it is for. One of which all was read is finished at once, without the
    /// instrument, unless somebody is to answer a question.
    /// </summary>
    /// <param name="idOrPart">The session; null for the newest that was broken off.</param>
    /// <param name="port">Where the instrument is now; null for where it was.</param>
    public async Task<ReadingResult<KeptReading>> ResumeAsync(
        string? idOrPart, LinkAddress? port, BenchSeat seat, CancellationToken cancellationToken)
    {
        using var session = await _sessions.TakeUpAsync(idOrPart, port, seat.Program, cancellationToken);
        return await ResumeAsync(session, seat, cancellationToken);
    }

    internal Task<ReadingResult<KeptReading>> ResumeAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
    {
        ReadingPurpose[] purposes = [_strip, _reference, _recheck, _check, _repeatability];
        return _runner.ResumeAsync(purposes.Single(p => p.Purpose == session.Plan.Purpose), session, seat, cancellationToken);
    }

    private async Task<ReadingResult<TKept>> ReadAsync<TRequest, TKept>(
        ReadingPurpose<TRequest, TKept> purpose, TRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken)
        where TKept : KeptReading
    {
        var planned = await purpose.PlanAsync(request, terms, text => seat.Display.Show(new BenchUpdate.Notice(text)), cancellationToken);
        // Told and not refused: the strip at hand may be another one.
        foreach (var stored in await _sessions.UnfinishedAsync(cancellationToken))
        {
            if (stored.Purpose == purpose.Purpose && Keys.Same(stored.Session.LotCode ?? stored.Session.PlaqueName ?? "", planned.Of))
            {
                seat.Display.Show(new BenchUpdate.BrokenOff(
                    stored.Session.Id, SessionWords.Of(stored), stored.Session.Provenance.At, stored.Lines));
            }
        }

        var (session, kept) = await _runner.RunAsync(purpose, planned, terms, seat, cancellationToken);
        return new ReadingResult<TKept>(session, (TKept?)kept);
    }
}
