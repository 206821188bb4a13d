using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>What is to be learned at a port.</summary>
/// <param name="Channels">The channels of the display, in the order in which they are typed.</param>
/// <param name="Name">The name of the profile to make.</param>
public sealed record LiveRequest(LinkAddress Address, ImmutableArray<Channel> Channels, string Name)
{
    public static int FirstRate => LinkCandidates.Rates[0];

    /// <summary>Bits per second, where they are known; null tries the usual ones.</summary>
    public int? Baud { get; init; }

    /// <summary>How long a reading is waited for before the user is asked. Default 30 s.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>The silence that ends a reading, to begin with. Default 1.2 s.</summary>
    public TimeSpan Quiet { get; init; } = TimeSpan.FromSeconds(1.2);

    /// <summary>The most readings that are asked for before it is given up. Default 5.</summary>
    public int MostReadings { get; init; } = 5;

    /// <summary>Whether rate and framing can be set: not through a server that passes raw bytes.</summary>
    public bool CanSet => Address is not LinkAddress.Tcp;
}

/// <summary>Learns a device profile at the port: finds the line settings, has the user read patches and type what the display shows, learns
/// from that, and lets one more reading prove the profile before it is given. It writes nothing.</summary>
/// <param name="opener">Opens the port.</param>
/// <param name="desk">The person at the instrument.</param>
/// <param name="time">Measures silences, and stamps what comes.</param>
public sealed class LiveLearning(ILinkOpener opener, ILearningDesk desk, TimeProvider time)
{
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
