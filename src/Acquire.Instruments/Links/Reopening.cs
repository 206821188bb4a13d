using Microsoft.Extensions.Logging;
using Polly;
using Polly.Retry;

namespace Acquire.Instruments.Links;

/// <summary>
/// Tries to open a link again until it opens: with waits that double up to a limit, with jitter, and only for faults that pass. It is
/// logged at the first failure and then at each doubling of their number.
/// </summary>
internal sealed class Reopening(ReconnectOptions options, TimeProvider time, ILogger logger)
{
    /// <summary>
    /// Whether a fault may pass when the adapter is plugged in again. A wrong setting does not, nor does a fault of the program.
    /// </summary>
    /// <remarks>A port just plugged in may still be held by the system, or not yet be given to its group.</remarks>
    public static bool MayPass(LinkException fault) => fault.Fault != LinkFault.BadSettings;

    /// <summary>Opens the link.</summary>
    /// <exception cref="LinkException">A fault that does not pass.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled before the link opened.</exception>
    public async Task<IByteLink> RunAsync(
        LinkAddress address,
        Func<CancellationToken, ValueTask<IByteLink>> open, Func<LinkState, ValueTask> tell, CancellationToken cancellationToken)
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
