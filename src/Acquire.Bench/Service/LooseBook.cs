using Acquire.Bench.Sessions;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Service;

/// <summary>The loose readings in the store: what came while nobody read, found again in the journal of the listening.</summary>
public sealed class LooseBook(AcquireStore store)
{
    /// <summary>Those since a moment, in the order in which they came, each with the session it was taken into.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<LooseReading>> SinceAsync(DateTimeOffset since, CancellationToken cancellationToken)
    {
        var found = new List<LooseReading>();
        foreach (var (listening, entries) in await store.ListenedSinceAsync(since, cancellationToken))
        {
            var listener = new LooseListener(
                listening, ProfileReader.Read(listening.Profile.Text, listening.Profile.Name + ".json"));
            found.AddRange(entries.SelectMany(e => listener.Take(e)).Where(r => r.Reading.At >= since));
        }

        var taken = await store.LooseTakenAsync(cancellationToken);
        return
        [
            .. found.OrderBy(r => r.Reading.At)
                .Select(r => r with { TakenBy = taken.TryGetValue(r.Id, out var session) ? session : null }),
        ];
    }
}
