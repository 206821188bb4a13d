using Acquire.Bench.Books;

namespace Acquire.Commands.Books;

/// <summary>
/// What the books do for a strip that is read: they tell the line and the bottle it ran in, count its own area through them, and take it off
/// the lot's stock.
/// </summary>
internal sealed class StripBooks(AcquireStore store, Surroundings surroundings, DateTimeOffset? ranAt = null)
{
    private readonly DarkroomBooks _books = BookOptions.Books(store, surroundings);

    /// <summary>When the strip ran in the developer, if it was said; null for about now.</summary>
    public DateTimeOffset? RanAt { get; private set; } = ranAt;

    /// <summary>Finds the line and the bottle before the strip is read, and says what was taken or is unknown.</summary>
    /// <exception cref="Bench.BenchException">The time is none.</exception>
    public async Task<StripRun> FindAsync(StripLot lot, string? line, string? bottle, string? when, CancellationToken cancellationToken)
    {
        RanAt = when is null ? RanAt : _books.When(when);
        var run = StripRun.Of(await _books.OpenAsync(cancellationToken), lot.ProcessKey, line, bottle, RanAt ?? surroundings.Time.GetUtcNow());
        foreach (var message in run.Messages)
        {
            surroundings.Error.Line(message);
        }

        return run;
    }

    /// <summary>
    /// Enters the strip that was kept, and gives what the books say about it. The strip is in the store already, so books that cannot be
    /// written are told and stop nothing.
    /// </summary>
    public async Task<StripContext?> EnterAsync(StripRun run, StripRecord strip, CancellationToken cancellationToken)
    {
        try
        {
            var at = (RanAt ?? strip.Provenance.At).ToUniversalTime().ToString("O", System.Globalization.CultureInfo.InvariantCulture);
            var entered = await _books.EnterAsync(
                new EntryInput(strip.Provenance.By, at), (books, _, stamp) => run.Entries(books, strip.LotCode, strip.Id, stamp), cancellationToken);
            foreach (var warning in entered.Warnings)
            {
                surroundings.Error.Line(warning);
            }

            return await _books.ContextAsync(strip, cancellationToken);
        }
        catch (StoreException fault)
        {
            surroundings.Error.Line($"The strip is kept, but the books could not be: {fault.Message}");
            return null;
        }
    }
}
