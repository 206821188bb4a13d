using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>A port that is open with certain settings, and listened to.</summary>
internal sealed class OpenLine : IAsyncDisposable
{
    /// <summary>Opening a port may make a byte or two of noise; nobody presses a key so soon.</summary>
    private static readonly TimeSpan Settling = TimeSpan.FromMilliseconds(250);

    private readonly IByteLink _link;

    private OpenLine(IByteLink link, LinkSettings settings, TimeProvider time) =>
        (_link, Settings, Reader) = (link, settings, new BurstReader(link, time));

    public LinkSettings Settings { get; }

    public BurstReader Reader { get; }

    /// <summary>Opens a port, passes over what comes at once, and says what the user should know about how it was opened.</summary>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    public static async Task<OpenLine> OpenAsync(
        ILinkOpener opener,
        LinkAddress address, LinkSettings settings, ILearningDesk desk, TimeProvider time, CancellationToken cancellationToken)
    {
        var line = new OpenLine(await opener.OpenAsync(address, settings, cancellationToken), settings, time);
        try
        {
            _ = await line.Reader.NextAsync(Settling, Settling, cancellationToken);
            foreach (var notice in line._link.Notices)
            {
                desk.Say(notice);
            }

            return line;
        }
        catch
        {
            await line.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Reader.DisposeAsync();
        await _link.DisposeAsync();
    }
}
