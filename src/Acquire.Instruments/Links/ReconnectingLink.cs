using System.Runtime.CompilerServices;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace Acquire.Instruments.Links;

/// <summary>How a broken link is opened again.</summary>
public sealed record ReconnectOptions
{
    /// <summary>The wait after the first failed attempt; it doubles. Default 250 ms.</summary>
    public TimeSpan FirstDelay { get; init; } = TimeSpan.FromMilliseconds(250);

    /// <summary>The longest wait between two attempts to reach a server, or to open a port that breaks at once. Default 30 s.</summary>
    public TimeSpan MaxDelay { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>The longest wait between two attempts to open a port of this computer that is there. Default 1 s.</summary>
    public TimeSpan MaxDelayNear { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>How long a link must stay open to count as back although nothing came over it. Default 2 s.</summary>
    public TimeSpan SteadyAfter { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>How long a link may be away, until it is back for good, before its fault surfaces; zero: at once; infinite, the default:
    /// for ever.</summary>
    public TimeSpan GiveUpAfter { get; init; } = Timeout.InfiniteTimeSpan;

    /// <summary>The silence that is told first; after that each doubling of it. Default 1 min.</summary>
    public TimeSpan FirstSilence { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>The folder of names that stay the same after replugging. Default <c>/dev/serial/by-id</c>.</summary>
    public string StableNames { get; init; } = PortList.StableNames;
}

/// <summary>A link that is opened again when it breaks. Each opening is a link of its own that is read from its beginning, so that nothing
/// cut by the break is ever joined to what comes after it. For one reader at a time; one that was cancelled may be followed by another,
/// who goes on with the open link and loses nothing that has come since.</summary>
public sealed class ReconnectingLink : IAsyncDisposable
{
    private readonly ReconnectOptions _options;
    private readonly ILogger _logger;
    private readonly Reopening _reopening;
    private readonly Outage _outage;
    private WatchedLink? _link;
    private LinkException? _lost;

    private ReconnectingLink(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, TimeProvider time, ReconnectOptions? options, ILogger? logger)
    {
        (_options, _logger) = (options ?? new ReconnectOptions(), logger ?? NullLogger.Instance);
        (_reopening, _outage) = (new Reopening(opener, address, settings, time, _options, _logger), new Outage(_options, time));
    }

    /// <summary>Opens a link for the first time; this is not tried again, since the port may simply be named wrongly.</summary>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    public static async Task<ReconnectingLink> OpenAsync(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, TimeProvider time, ReconnectOptions? options,
        ILogger? logger, CancellationToken cancellationToken)
    {
        var link = Begin(opener, address, settings, time, options, logger);
        link._link = await link._reopening.OpenAsync(cancellationToken);
        return link;
    }

    /// <summary>A link that is opened when it is first read, and waited for where its port is away.</summary>
    public static ReconnectingLink Begin(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, TimeProvider time, ReconnectOptions? options, ILogger? logger) =>
        new(opener, address, settings, time, options, logger);

    /// <summary>Reads until cancelled, over all breaks. What was read before a break is delivered before the break is told.</summary>
    /// <param name="read">Reads one link from its beginning, or from where the reader before stopped, until it breaks, which surfaces as a
    /// <see cref="LinkException"/>.</param>
    /// <param name="tell">Is told each state, by the task that reads and in its order; reading waits for it. The first state is how it is
    /// now: connected is not said of a link that is known to be away.</param>
    /// <exception cref="LinkException">The link stayed away too long, or a fault does not pass.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public async IAsyncEnumerable<T> ReadAllAsync<T>(
        Func<IByteLink, CancellationToken, IAsyncEnumerable<T>> read, Func<LinkState, ValueTask> tell,
        [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        // Each reader has patience of its own: how long the port was away before is nothing that it waited for.
        _outage.Forget();
        if (_lost is { } before)
        {
            _outage.Begin(isFirst: true);
            await tell(new LinkState.Gone(before));
        }

        while (true)
        {
            var link = _link ??= await ComeBackAsync(tell, cancellationToken);
            if (link.Fault is null)
            {
                await tell(new LinkState.Connected(link.Name, link.Notices, _outage.Last));
            }

            // One that broke while nobody read it is read too: what came before the break is there still.
            link.Tell = tell;
            LinkException? fault;
            await using (var items = read(link, cancellationToken).GetAsyncEnumerator(cancellationToken))
            {
                while ((fault = await NextAsync(items, link)) is null)
                {
                    yield return items.Current;
                }
            }

            await LoseAsync(link, fault, tell);
        }
    }

    public ValueTask DisposeAsync() => _link?.DisposeAsync() ?? ValueTask.CompletedTask;

    private async ValueTask<LinkException?> NextAsync<T>(IAsyncEnumerator<T> items, WatchedLink link)
    {
        try
        {
            return await items.MoveNextAsync() ? null : new LinkException(LinkFault.Gone, $"{link.Name} ended.");
        }
        catch (LinkException fault) when (Reopening.MayPass(fault) && _options.GiveUpAfter != TimeSpan.Zero)
        {
            return fault;
        }
    }

    private async Task LoseAsync(WatchedLink link, LinkException fault, Func<LinkState, ValueTask> tell)
    {
        // An adapter that opens and breaks at once is not back; its outage goes on counting, and the waits go on growing.
        var wasBack = link.HasReceived || link.Age >= _options.SteadyAfter;
        _reopening.Broke(wasBack);
        (_link, _lost) = (null, fault);
        _outage.Begin(wasBack);
        if (_reopening.IsNews)
        {
            LinkLog.Lost(_logger, link.Name, fault.Message);
        }

        try
        {
            await tell(new LinkState.Gone(fault));
        }
        finally
        {
            await link.DisposeAsync();
        }
    }

    private async Task<WatchedLink> ComeBackAsync(Func<LinkState, ValueTask> tell, CancellationToken cancellationToken)
    {
        using var patience = new CancellationTokenSource(_outage.Left, _outage.Time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(patience.Token, cancellationToken);
        try
        {
            var link = await _reopening.RunAsync(tell, _lost, either.Token);
            _outage.End();
            if (_lost is not null && _reopening.IsNews)
            {
                LinkLog.Back(_logger, link.Name, _outage.Last ?? TimeSpan.Zero);
            }

            _lost = null;
            return link;
        }
        catch (OperationCanceledException) when (patience.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            var fault = _lost ?? _reopening.LastFault;
            throw new LinkException(
                fault?.Fault ?? LinkFault.NotFound, $"{fault?.Message} {_outage.Words(_lost is not null)}", fault);
        }
    }
}

/// <summary>How long a link was away, until it was back for good: short breaks add up only while it is not.</summary>
internal sealed class Outage(ReconnectOptions options, TimeProvider time)
{
    private TimeSpan _before;
    private long? _since;
    private int _breaks;

    public TimeProvider Time => time;

    /// <summary>How long the break that ended last took; null where there was none.</summary>
    public TimeSpan? Last { get; private set; }

    /// <summary>How much longer it may be away.</summary>
    /// <remarks>Where nothing is waited for, the first failure surfaces by itself.</remarks>
    public TimeSpan Left => options.GiveUpAfter <= TimeSpan.Zero ? Timeout.InfiniteTimeSpan
        : options.GiveUpAfter > _before ? options.GiveUpAfter - _before : TimeSpan.Zero;

    /// <summary>What is said when that is over.</summary>
    /// <param name="back">Whether it was there before.</param>
    public string Words(bool back) => _breaks > 1
        ? FormattableString.Invariant(
            $"It came and went {_breaks} times, and was away for {options.GiveUpAfter.TotalSeconds:0.###} s in all.")
        : FormattableString.Invariant($"It did not come {(back ? "back " : "")}within {options.GiveUpAfter.TotalSeconds:0.###} s.");

    public void Forget() => (_before, _since, _breaks, Last) = (TimeSpan.Zero, null, 0, null);

    /// <param name="isFirst">Whether the link was there before for long enough, so that what was before does not count.</param>
    public void Begin(bool isFirst)
    {
        (_before, _breaks) = isFirst ? (TimeSpan.Zero, 1) : (_before, _breaks + 1);
        _since = time.GetTimestamp();
    }

    public void End()
    {
        if (_since is { } since)
        {
            Last = time.GetElapsedTime(since);
            _before += Last.Value;
            _since = null;
        }
    }
}
