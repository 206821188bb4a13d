namespace Acquire.Instruments.Links;

/// <summary>Opens links. The seam at which tests put a scripted instrument.</summary>
public interface ILinkOpener
{
    /// <summary>Opens the link for one owner.</summary>
    /// <exception cref="LinkException">It cannot be opened; the message says why and what to do.</exception>
    ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken);
}
