using Acquire.Domain.Densitometry;

namespace Acquire.Storage.Import;

/// <summary>One read of one patch from a file.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Patch">The patch, in the file's word.</param>
/// <param name="Read">Which read, in the file's word; no two reads of one patch and placement are alike.</param>
/// <param name="Placement">Which placement of the patch the read was taken in; null where the file does not say: each read is one.</param>
/// <param name="Densities">The densities.</param>
public sealed record ImportedRead(int Line, string Patch, string Read, string? Placement, ChannelDensities Densities);
