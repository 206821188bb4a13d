using Acquire.Bench.Books;

namespace Acquire.Commands.Books;

/// <summary>What the books do for a strip that is about to be read: they tell the line and the bottle it ran in.</summary>
internal sealed class StripBooks(AcquireStore store, Surroundings surroundings)
{
    private readonly DarkroomBooks _books = BookOptions.Books(store, surroundings);

    /// <summary>When the strip ran in the developer, if it was said; null for about now.</summary>
    public DateTimeOffset? RanAt { get; private set; }

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
}
