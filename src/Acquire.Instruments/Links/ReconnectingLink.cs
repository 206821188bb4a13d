using System.Runtime.CompilerServices;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Polly;
using Polly.Retry;

namespace Acquire.Instruments.Links;

/// <summary>How a broken link is opened again.</summary>
public sealed record ReconnectOptions
{
    /// <summary>The wait after the first failed attempt; it doubles, with jitter. Default 250 ms.</summary>
    public TimeSpan FirstDelay { get; init; } = TimeSpan.FromMilliseconds(250);

    /// <summary>The longest wait between two attempts. Default 30 s.</summary>
    public TimeSpan MaxDelay { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How long a link may stay away before its fault surfaces; zero: at once; infinite, the default: for ever.</summary>
    public TimeSpan GiveUpAfter { get; init; } = Timeout.InfiniteTimeSpan;

    /// <summary>The silence that is told first; after that each doubling of it. Default 1 min.</summary>
    public TimeSpan FirstSilence { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>The folder of names that stay the same after replugging. Default <c>/dev/serial/by-id</c>.</summary>
    public string StableNames { get; init; } = PortList.StableNames;
}

/// <summary>A link that is opened again when it breaks. Each opening is a link of its own that is read from its beginning, so that nothing
/// cut by the break is ever joined to what comes after it. For one reader at a time.</summary>
public sealed class ReconnectingLink : IAsyncDisposable
{
    private readonly ILinkOpener _opener;
    private readonly LinkSettings _settings;
    private readonly TimeProvider _time;
    private readonly ReconnectOptions _options;
    private readonly ILogger _logger;
    private readonly LinkAddress _address;
    private IByteLink _link;
    private int _fruitless;
    private long? _goneSince;

    private ReconnectingLink(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, IByteLink link, TimeProvider time,
        ReconnectOptions options, ILogger logger)
    {
        (_opener, _settings, _link, _time, _options, _logger) = (opener, settings, link, time, options, logger);
        // By its lasting name: an adapter that is plugged in again may get another number.
        _address = PortList.StableNameOf(address, options.StableNames);
    }

    /// <summary>Opens a link for the first time; this is not tried again, since the port may simply be named wrongly.</summary>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    public static async Task<ReconnectingLink> OpenAsync(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, TimeProvider time, ReconnectOptions? options,
        ILogger? logger, CancellationToken cancellationToken)
    {
        var link = await opener.OpenAsync(address, settings, cancellationToken);
        return new ReconnectingLink(
            opener, address, settings, link, time, options ?? new ReconnectOptions(), logger ?? NullLogger.Instance);
    }

    /// <summary>Reads until cancelled, over all breaks. What was read before a break is delivered before the break is told.</summary>
    /// <param name="read">Reads one link from its beginning until it breaks, which surfaces as a <see cref="LinkException"/>.</param>
    /// <param name="tell">Is told each state, by the task that reads and in its order; reading waits for it.</param>
    /// <exception cref="LinkException">The link stayed away too long, or a fault does not pass.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public async IAsyncEnumerable<T> ReadAllAsync<T>(
        Func<IByteLink, CancellationToken, IAsyncEnumerable<T>> read, Func<LinkState, ValueTask> tell,
        [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        while (true)
        {
            await tell(new LinkState.Connected(_link.Name, _link.Notices));
            var watched = new WatchedLink(_link, _options.FirstSilence, tell, _time);
            LinkException? fault;
            await using (var items = read(watched, cancellationToken).GetAsyncEnumerator(cancellationToken))
            {
                while ((fault = await NextAsync(items)) is null)
                {
                    yield return items.Current;
                }
            }

            // An adapter that opens and breaks at once is not back; its outage goes on counting, and the waits go on growing.
            var wasOfUse = watched.HasReceived || watched.Age > _options.MaxDelay;
            (_fruitless, _goneSince) = wasOfUse ? (0, null) : (_fruitless + 1, _goneSince);
            await ReopenAsync(fault, tell, cancellationToken);
        }
    }

    public ValueTask DisposeAsync() => _link.DisposeAsync();

    private async ValueTask<LinkException?> NextAsync<T>(IAsyncEnumerator<T> items)
    {
        try
        {
            return await items.MoveNextAsync() ? null : new LinkException(LinkFault.Gone, $"{_link.Name} ended.");
        }
        catch (LinkException fault) when (Reopening.MayPass(fault) && _options.GiveUpAfter != TimeSpan.Zero)
        {
            return fault;
        }
    }

    private async Task ReopenAsync(LinkException fault, Func<LinkState, ValueTask> tell, CancellationToken cancellationToken)
    {
        LinkLog.Lost(_logger, _link.Name, fault.Message);
        await tell(new LinkState.Gone(fault));
        await _link.DisposeAsync();
        // Patience counts from the first break of an outage, not from the last.
        var goneSince = _goneSince ??= _time.GetTimestamp();
        using var patience = new CancellationTokenSource(Left(goneSince), _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(patience.Token, cancellationToken);
        try
        {
            await WaitWhenFruitlessAsync(either.Token);
            _link = await new Reopening(_options, _time, _logger).RunAsync(
                _address, token => _opener.OpenAsync(_address, _settings, token), tell, either.Token);
        }
        catch (OperationCanceledException) when (patience.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            throw new LinkException(
                fault.Fault,
                FormattableString.Invariant($"{fault.Message} It did not come back within {_options.GiveUpAfter.TotalSeconds:0.###} s."),
                fault);
        }

        LinkLog.Back(_logger, _link.Name, _time.GetElapsedTime(goneSince));
    }

    /// <summary>A link that opens and at once breaks again, time after time, must not be opened as fast as possible.</summary>
    private async Task WaitWhenFruitlessAsync(CancellationToken cancellationToken)
    {
        if (_fruitless > 0)
        {
            var delay = _options.FirstDelay * Math.Pow(2, Math.Min(_fruitless - 1, 16));
            await Task.Delay(delay < _options.MaxDelay ? delay : _options.MaxDelay, _time, cancellationToken);
        }
    }

    private TimeSpan Left(long goneSince)
    {
        if (_options.GiveUpAfter == Timeout.InfiniteTimeSpan)
        {
            return Timeout.InfiniteTimeSpan;
        }

        var left = _options.GiveUpAfter - _time.GetElapsedTime(goneSince);
        return left > TimeSpan.Zero ? left : TimeSpan.Zero;
    }
}

/// <summary>Tries to open a link again until it opens: with waits that double up to a limit, with jitter, and only for faults that pass. It
/// is logged at the first failure and then at each doubling of their number.</summary>
internal sealed class Reopening(ReconnectOptions options, TimeProvider time, ILogger logger)
{
    /// <summary>Whether a fault may pass when the adapter is plugged in again. A wrong
    /// setting does not, nor does a fault of the program.</summary>
    /// <remarks>A port just plugged in may still be held by the system, or not yet be given to its group.</remarks>
    public static bool MayPass(LinkException fault) => fault.Fault != LinkFault.BadSettings;

    /// <exception cref="LinkException">A fault that does not pass.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled before the link opened.</exception>
    public async Task<IByteLink> RunAsync(
        LinkAddress address, Func<CancellationToken, ValueTask<IByteLink>> open, Func<LinkState, ValueTask> tell,
        CancellationToken cancellationToken)
    {
        var attempt = 0;
        var retry = new RetryStrategyOptions<IByteLink>
        {
            ShouldHandle = new PredicateBuilder<IByteLink>().Handle<LinkException>(MayPass),
            MaxRetryAttempts = int.MaxValue,
            BackoffType = DelayBackoffType.Exponential,
            UseJitter = true,
            Delay = options.FirstDelay,
            MaxDelay = options.MaxDelay,
            OnRetry = failed =>
            {
                var fault = (LinkException)failed.Outcome.Exception!;
                attempt++;
                // Ever more seldom: a night without the instrument must not fill the log.
                if (int.IsPow2(attempt))
                {
                    LinkLog.StillGone(logger, address.ToString()!, attempt, fault.Message);
                }

                return tell(new LinkState.Reconnecting(attempt, fault));
            },
        };
        var pipeline = new ResiliencePipelineBuilder<IByteLink> { TimeProvider = time }.AddRetry(retry).Build();
        return await pipeline.ExecuteAsync(open, cancellationToken);
    }
}
