using Microsoft.Extensions.Logging;

namespace Acquire.Instruments.Links;

/// <summary>Tries to open a link until it opens: with waits that double up to a limit, and only for faults that pass. A port that comes
/// back ends a wait at once. It is told and logged at the first failure and then at each doubling of their number, since a night without
/// the instrument must fill neither the screen nor the log.</summary>
internal sealed class Reopening(
    ILinkOpener opener, LinkAddress address, LinkSettings settings, TimeProvider time, ReconnectOptions options, ILogger logger)
{
    private LinkAddress _address = address;
    private PortWatch _watch = new(address, time);
    private PortSight _seen;
    private int _fruitless;

    /// <summary>Why the last attempt failed; null when none has.</summary>
    public LinkException? LastFault { get; private set; }

    /// <summary>
    /// Whether a break is worth a line in the log: of those that follow each other at once, only at doublings of their number.
    /// </summary>
    public bool IsNews => _fruitless == 0 || int.IsPow2(_fruitless);

    /// <summary>
    /// Whether a fault may pass when the adapter is plugged in again. A wrong setting does not, nor does a fault of the program.
    /// </summary>
    /// <remarks>A port just plugged in may still be held by the system, or not yet be given to its group.</remarks>
    public static bool MayPass(LinkException fault) => fault.Fault != LinkFault.BadSettings;

    /// <summary>Opens it now or not at all.</summary>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    public async Task<WatchedLink> OpenAsync(CancellationToken cancellationToken)
    {
        // Looked at before: one that is replaced while it is opened must not pass for the one that was opened.
        _seen = _watch.Look();
        var link = await opener.OpenAsync(_address, settings, cancellationToken);
        // By its lasting name from now on: an adapter that is plugged in again may get another number.
        var lasting = PortList.StableNameOf(_address, options.StableNames);
        (_address, _watch) = lasting == _address ? (_address, _watch) : (lasting, new PortWatch(lasting, time));
        return new WatchedLink(link, options.FirstSilence, time);
    }

    /// <summary>The link broke.</summary>
    /// <param name="wasBack">Whether it was of use until then.</param>
    public void Broke(bool wasBack) => _fruitless = wasBack ? 0 : _fruitless + 1;

    /// <param name="lost">How the link broke before; null when it was never open.</param>
    /// <exception cref="LinkException">A fault that does not pass.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled before the link opened.</exception>
    public async Task<WatchedLink> RunAsync(Func<LinkState, ValueTask> tell, LinkException? lost, CancellationToken cancellationToken)
    {
        await WaitWhenFruitlessAsync(tell, lost, cancellationToken);
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await OpenAsync(cancellationToken);
            }
            catch (LinkException fault) when (MayPass(fault) && options.GiveUpAfter != TimeSpan.Zero)
            {
                LastFault = fault;
                var wait = Delay(attempt, IsThereAndNear ? options.MaxDelayNear : options.MaxDelay);
                if (int.IsPow2(attempt))
                {
                    LinkLog.StillGone(logger, _address.ToString()!, attempt, fault.Message);
                    await tell(lost is null && attempt == 1
                        ? new LinkState.NotOpen(fault, Next(wait))
                        : new LinkState.Reconnecting(attempt, fault, Next(wait)));
                }

                await _watch.WaitAsync(wait, _seen, cancellationToken);
            }
        }
    }

    /// <summary>A link that opens and at once breaks again, time after time, must not be opened as fast as possible.</summary>
    private async Task WaitWhenFruitlessAsync(Func<LinkState, ValueTask> tell, LinkException? lost, CancellationToken cancellationToken)
    {
        // One that is not there needs no such care: when it comes back, it was plugged in anew.
        if (_fruitless == 0 || (_watch.Notices && !_watch.Look().IsThere))
        {
            return;
        }

        var wait = Delay(_fruitless, options.MaxDelay);
        if (lost is not null && int.IsPow2(_fruitless) && wait > options.MaxDelayNear)
        {
            await tell(new LinkState.Reconnecting(_fruitless, lost, FormattableString.Invariant(
                $"It breaks whenever it is opened; the next attempt is in {wait.TotalSeconds:0.##} s.")));
        }

        await _watch.WaitAsync(wait, _seen, cancellationToken);
    }

    /// <summary>A port that stands there may be let go, or be given to its group, at any time, and nothing tells.</summary>
    private bool IsThereAndNear => _watch.IsNear && (_seen.IsThere || !_watch.Notices);

    private string Next(TimeSpan wait) => _watch.Notices && !_seen.IsThere
        ? "It is opened as soon as it is there."
        : IsThereAndNear
            ? "It is tried again every second."
            : FormattableString.Invariant($"The next attempt is in {wait.TotalSeconds:0.##} s.");

    private TimeSpan Delay(int attempt, TimeSpan most)
    {
        var delay = options.FirstDelay * Math.Pow(2, Math.Min(attempt - 1, 16));
        return delay < most ? delay : most;
    }
}
