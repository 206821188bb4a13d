using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>
/// Learns a device profile at the port: finds the line settings, has the user read patches and type what the display shows, learns from
/// that, and
/// lets one more reading prove the profile before it is given. It writes nothing.
/// </summary>
/// <param name="opener">Opens the port.</param>
/// <param name="desk">The person at the instrument.</param>
/// <param name="time">Measures silences, and stamps what comes.</param>
public sealed class LiveLearning(ILinkOpener opener, ILearningDesk desk, TimeProvider time)
{
    /// <summary>Runs to the end.</summary>
    /// <returns>A profile that the user has seen proved; or why there is none.</returns>
    /// <exception cref="LinkException">The port cannot be opened, or broke.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public async Task<LearningResult> RunAsync(LiveRequest request, CancellationToken cancellationToken)
    {
        try
        {
            await using var session = await BeginAsync(request, cancellationToken);
            return await session.RunAsync(cancellationToken);
        }
        catch (DeclinedException e)
        {
            return new LearningResult.Declined([e.Message]);
        }
    }

    /// <summary>Finds settings at which the user sees a reading too.</summary>
    private async Task<LiveSession> BeginAsync(LiveRequest request, CancellationToken cancellationToken)
    {
        var search = new SettingsSearch(opener, desk, time, request);
        while (true)
        {
            var (line, first) = await search.NextAsync(cancellationToken);
            var session = new LiveSession(opener, desk, time, request, line);
            try
            {
                if (await session.BeginAsync(first, cancellationToken))
                {
                    return session;
                }
            }
            catch
            {
                await session.DisposeAsync();
                throw;
            }

            await session.DisposeAsync();
        }
    }
}

/// <summary>A reading and what the display showed for it.</summary>
internal sealed record LiveReading(Burst Burst, ShownReading Shown);
