namespace Acquire.Instruments.Links;

/// <summary>What is known of a link that is opened again when it breaks: never more than that.</summary>
/// <param name="Message">The state in words for the user.</param>
public abstract record LinkState(string Message)
{
    /// <summary>The port is open; whether an instrument is behind it shows when it sends.</summary>
    /// <param name="Port">The port as it is named now.</param>
    /// <param name="Notices">What the user should know about how it was opened.</param>
    /// <param name="Away">How long it was away before; null where it was not.</param>
    public sealed record Connected(string Port, ImmutableArray<string> Notices, TimeSpan? Away = null) : LinkState(
        $"connected: {Port}" + (Away is { } away ? FormattableString.Invariant($", back after {away.TotalSeconds:0.#} s") : ""));

    /// <summary>The port is open and nothing has come for a while.</summary>
    /// <param name="For">How long.</param>
    public sealed record Silent(string Port, TimeSpan For) : LinkState(FormattableString.Invariant(
        $"silent for {For.TotalMinutes:0.#} min: {Port} is open and nothing comes"));

    /// <summary>The port could not be opened so far.</summary>
    /// <param name="Fault">Why.</param>
    /// <param name="Next">When it is tried again, as a sentence.</param>
    public sealed record NotOpen(LinkException Fault, string Next) : LinkState($"not open: {Fault.Message} {Next}");

    /// <summary>The link broke.</summary>
    /// <param name="Fault">How.</param>
    public sealed record Gone(LinkException Fault) : LinkState($"gone: {Fault.Message}");

    /// <summary>The link is being opened again and could not be so far. It is told at the first failure and then at each doubling of their
    /// number.</summary>
    /// <param name="Attempt">How often it has been tried, from 1.</param>
    /// <param name="Fault">Why the last attempt failed.</param>
    /// <param name="Next">When it is tried again, as a sentence.</param>
    public sealed record Reconnecting(int Attempt, LinkException Fault, string Next) : LinkState(FormattableString.Invariant(
        $"reconnecting, attempt {Attempt}: {Fault.Message} {Next}"));
}

/// <summary>An open link that notes whether anything has come, and tells when nothing does. It serves one reader after another.</summary>
internal sealed class WatchedLink(IByteLink inner, TimeSpan firstSilence, TimeProvider time) : PassingLink(inner)
{
    private readonly long _opened = time.GetTimestamp();
    private long? _lastByte;
    private int _doublings;

    public bool HasReceived => _lastByte is not null;

    /// <summary>How long it has been open.</summary>
    public TimeSpan Age => time.GetElapsedTime(_opened);

    /// <summary>Is told of silence, by the task that reads.</summary>
    public Func<LinkState, ValueTask> Tell { get; set; } = _ => ValueTask.CompletedTask;

    private TimeSpan NextSilence => firstSilence * Math.Pow(2, _doublings);

    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        // Silence is no fault, as nobody may be reading film; so the read is never given up, and it is only told.
        var read = Inner.ReadAsync(buffer, cancellationToken);
        var count = read.IsCompleted ? await read : await WaitAsync(read.AsTask());
        _lastByte = time.GetTimestamp();
        _doublings = 0;
        return count;
    }

    private async Task<int> WaitAsync(Task<int> read)
    {
        while (true)
        {
            var left = NextSilence - time.GetElapsedTime(_lastByte ?? _opened);
            await ((Task)read.WaitAsync(left > TimeSpan.Zero ? left : TimeSpan.Zero, time)).ConfigureAwait(
                ConfigureAwaitOptions.SuppressThrowing);
            if (read.IsCompleted)
            {
                return await read;
            }

            await Tell(new LinkState.Silent(Name, NextSilence));
            // Told ever more seldom: a silence of hours is one piece of news, not hundreds.
            _doublings++;
        }
    }
}
