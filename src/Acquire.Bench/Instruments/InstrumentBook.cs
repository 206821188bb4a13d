using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Instruments;

/// <summary>The instruments of the house. Each change is a revision with who, when and why; none is ever taken away.</summary>
/// <remarks>
/// Every member throws <see cref="StoreException"/> when the store cannot be used, <see cref="ProfileException"/> when a profile cannot be
/// found, and <see cref="LinkException"/> when an address is none.
/// </remarks>
public sealed class InstrumentBook(AcquireStore store, ProfileLibrary profiles, TimeProvider time)
{
    private const string HowToAdd = "acquire instrument add NAME --port PORT --profile PROFILE";

    /// <summary>Every instrument as it stands, those in use first, by name.</summary>
    public async Task<ImmutableArray<Instrument>> ListAsync(CancellationToken cancellationToken) =>
        [.. (await store.ListInstrumentsAsync(cancellationToken)).OrderBy(i => i.RetiredAt is not null)];

    /// <summary>The instrument of a name, in any case.</summary>
    /// <exception cref="BenchException">There is none; the message lists those there are.</exception>
    public async Task<Instrument> GetAsync(string name, CancellationToken cancellationToken) =>
        (await HistoryAsync(name, cancellationToken))[^1];

    /// <summary>All revisions of an instrument, oldest first.</summary>
    /// <exception cref="BenchException">There is none of that name.</exception>
    public async Task<ImmutableArray<Instrument>> HistoryAsync(string name, CancellationToken cancellationToken)
    {
        if (await store.InstrumentRevisionsAsync(name.Trim(), cancellationToken) is { Count: > 0 } revisions)
        {
            return [.. revisions];
        }

        var there = await store.ListInstrumentsAsync(cancellationToken);
        throw new BenchException(there.Count == 0
            ? $"There is no instrument '{name}', and none at all yet. Add it: {HowToAdd}"
            : $"There is no instrument '{name}'; there are {Numbers.Names([.. there.Select(i => i.Name)])}. Add it: {HowToAdd}");
    }

    /// <summary>Adds an instrument.</summary>
    /// <exception cref="BenchException">What is said of it cannot be.</exception>
    public async Task<ChangedInstrument> AddAsync(
        string name, InstrumentDetails details, string by, string? reason, CancellationToken cancellationToken)
    {
        var profile = details.Profile ?? throw new BenchException(
            $"Say how the instrument {name} writes its readings: --profile PROFILE, a name that 'acquire profile list' shows. Where it "
            + "fits none: acquire profile learn");
        var added = details.Of(
            new Instrument(Named(name), Known(profile), Revision.First(by, time.GetUtcNow(), reason ?? "added")), Known);
        await store.AddInstrumentAsync(added, cancellationToken);
        return await ToldAsync(added, cancellationToken);
    }

    /// <summary>Changes what is said of an instrument.</summary>
    /// <exception cref="BenchException">There is no such instrument, or nothing is changed.</exception>
    public Task<ChangedInstrument> SetAsync(
        string name, InstrumentDetails details, string by, string? reason, CancellationToken cancellationToken) =>
        ChangeAsync(name, before => details.Of(before, Known), by, reason, cancellationToken);

    /// <summary>Takes an instrument out of use, or back into it. What was read with it stays, and so does its name.</summary>
    /// <exception cref="BenchException">There is no such instrument, or it is so already.</exception>
    public Task<ChangedInstrument> RetireAsync(string name, bool back, string by, string? reason, CancellationToken cancellationToken) =>
        ChangeAsync(
            name,
            before => before with { RetiredAt = back ? null : before.RetiredAt ?? time.GetUtcNow() },
            by,
            reason ?? (back ? "taken into use again" : "retired"),
            cancellationToken);

    /// <summary>How to reach an instrument and how it speaks.</summary>
    /// <param name="port">Where it is this once; null for its own port.</param>
    /// <param name="baud">Its rate this once; null for its own, or else the profile's.</param>
    /// <exception cref="BenchException">It has no port, and none is named.</exception>
    public InstrumentSetup SetupOf(Instrument instrument, LinkAddress? port = null, int? baud = null)
    {
        var profile = profiles.Find(instrument.Profile);
        var address = port ?? LinkAddress.Parse(instrument.Port ?? throw new BenchException(
            $"Nobody said on which port {instrument.Name} is. Say it for good: acquire instrument set {Quoted(instrument.Name)} --port "
            + "PORT, or for this once: --port PORT"));
        return Setup(instrument.Name, address, profile, baud ?? instrument.Baud);
    }

    /// <summary>The instrument that a user means.</summary>
    /// <exception cref="BenchException">There is none such, or several might be meant.</exception>
    public async Task<ChosenInstrument> ChooseAsync(InstrumentChoice choice, CancellationToken cancellationToken)
    {
        var port = choice.Port is { } address ? LinkAddress.Parse(address) : null;
        if (choice.Name is { } name)
        {
            var named = await GetAsync(name, cancellationToken);
            RefuseOtherProfile(named, choice.Profile);
            return new ChosenInstrument(SetupOf(named, port, choice.Baud), Retired(named));
        }

        var all = await store.ListInstrumentsAsync(cancellationToken);
        var inUse = all.Where(i => i.RetiredAt is null).ToList();
        return (choice.Profile, port) switch
        {
            ({ } profile, { } at) => OneOff(all, at, profile, choice.Baud),
            ({ } profile, null) =>
                Only(inUse.FindAll(i => IsOf(i, profiles.Find(profile))), $"with profile {profile}", inUse, null, choice),
            (null, { } at) => inUse.FindAll(i => IsOn(i, at)) is { Count: > 0 } there
                ? Only(there, $"on {at}", inUse, at, choice)
                : Only(inUse, "", inUse, at, choice),
            _ => Only(inUse, "", inUse, null, choice),
        };
    }

    /// <summary>
    /// The instrument that is to be tried, with another profile where one is named: only what comes tells whether it fits.
    /// </summary>
    /// <exception cref="BenchException">There is none such, or several might be meant.</exception>
    public async Task<ChosenInstrument> ForTrialAsync(InstrumentChoice choice, CancellationToken cancellationToken)
    {
        if (choice is not { Profile: { } other } || choice is { Name: null, Port: not null })
        {
            return await ChooseAsync(choice, cancellationToken);
        }

        var own = await ChooseAsync(choice with { Profile = null }, cancellationToken);
        var instrument = await GetAsync(own.Setup.Name, cancellationToken);
        return own with { Setup = SetupOf(instrument with { Profile = other }, own.Setup.Address, choice.Baud) };
    }

    /// <summary>The instrument that readings from a file are of, as their record names it.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="BenchException">There is none such, or several might be meant.</exception>
    public async Task<InstrumentInUse> OfFileAsync(InstrumentChoice choice, string file, CancellationToken cancellationToken)
    {
        var (name, profile) = await NamedAsync(choice, cancellationToken);
        return new InstrumentInUse(profile.Name, profile.Hash, $"file:{Path.GetFileName(file)}") { Name = name };
    }

    /// <summary>Name and profile of an instrument that need not be reached.</summary>
    /// <exception cref="BenchException">There is none such, or several might be meant.</exception>
    public async Task<(string Name, DeviceProfile Profile)> NamedAsync(InstrumentChoice choice, CancellationToken cancellationToken)
    {
        var all = await store.ListInstrumentsAsync(cancellationToken);
        if (choice.Name is { } name && (all.Any(i => Keys.Same(i.Name, name)) || profiles.List().All(p => !Keys.Same(p.Name, name))))
        {
            var named = await GetAsync(name, cancellationToken);
            RefuseOtherProfile(named, choice.Profile);
            return (named.Name, profiles.Find(named.Profile));
        }

        // A profile's name is one too: values were entered by it before instruments had names.
        var profile = profiles.Find(
            choice.Profile ?? choice.Name ?? throw new BenchException("Name the instrument of the readings: --instrument NAME."));
        var like = all.Where(i => i.RetiredAt is null && IsOf(i, profile)).ToList();
        return like.Count > 1
            ? throw new BenchException(
                $"Several instruments are read with profile {profile.Name}: {Names(like)}. Say which one is meant: --instrument NAME")
            : (like is [var only] ? only.Name : profile.Name, profile);
    }

    /// <summary>
    /// Adds the instrument that a session names and nobody added, so that what was read once can be called by its name from then on.
    /// </summary>
    internal static void Ensure(StoreTransaction writing, InstrumentSetup setup, string by, DateTimeOffset now)
    {
        if (writing.FindInstrument(setup.Name) is null)
        {
            writing.AddInstrument(new Instrument(
                setup.Name, setup.ProfileSource ?? setup.Profile.Name, Revision.First(by, now, "read with for the first time"))
            {
                Port = setup.Address.ToString(),
                Baud = setup.Settings.Baud == setup.Profile.Link.Baud ? null : setup.Settings.Baud,
            });
        }
    }

    /// <summary>
    /// For a port and a profile that are named for this once: the instrument that has both; else the only one with the profile, for ports
    /// change; else, where none has it, one that goes by the profile's name. Of several with the profile on other ports none is meant.
    /// </summary>
    private ChosenInstrument OneOff(IReadOnlyList<Instrument> all, LinkAddress port, string named, int? baud)
    {
        var profile = profiles.Find(named);
        var like = all.Where(i => i.RetiredAt is null && IsOf(i, profile)).ToList();
        if (like.Count > 0)
        {
            var meant = like.FindAll(i => IsOn(i, port)) is [var both] ? both : like is [var only] ? only : throw new BenchException(
                $"Several instruments are read with profile {profile.Name}: {Names(like)}. Say which is on {port}: --instrument NAME");
            return new ChosenInstrument(
                Setup(meant.Name, port, profile, baud ?? meant.Baud),
                meant.Port is null || IsOn(meant, port)
                    ? null
                    : $"Read as instrument {meant.Name}, the only one with profile {profile.Name}, which is on {meant.Port} otherwise. "
                        + $"Where it is another one, add that: {HowToAdd}");
        }

        var namesake = all.FirstOrDefault(i => Keys.Same(i.Name, profile.Name));
        if (namesake is { RetiredAt: null })
        {
            throw new BenchException(
                $"The instrument {namesake.Name} is read with profile {namesake.Profile}, not with the one of its name. Name the "
                + "instrument: --instrument NAME");
        }

        return new ChosenInstrument(
            Setup(profile.Name, port, profile, baud) with { ProfileSource = Known(named) }, namesake is null ? null : Retired(namesake));
    }

    private ChosenInstrument Only(
        List<Instrument> some, string which, List<Instrument> inUse, LinkAddress? port, InstrumentChoice choice) =>
        some switch
        {
            [var one] => new ChosenInstrument(SetupOf(one, port, choice.Baud), null),
            [] when inUse.Count == 0 =>
                throw new BenchException(
                    $"There is no instrument yet. Add it: {HowToAdd}, or name both for this once: --port PORT --profile PROFILE"),
            [] => throw new BenchException($"No instrument {which} is in use; there are {Names(inUse)}. Name one: --instrument NAME"),
            _ => throw new BenchException(
                $"Several instruments{(which.Length > 0 ? " " + which : "")} are in use: {Names(some)}. Name one: --instrument NAME"),
        };

    private async Task<ChangedInstrument> ChangeAsync(
        string name, Func<Instrument, Instrument> change, string by, string? reason, CancellationToken cancellationToken)
    {
        var before = await GetAsync(name, cancellationToken);
        var after = change(before);
        var changes = after.ChangesSince(before);
        if (changes.IsEmpty)
        {
            throw new BenchException($"The instrument {before.Name} is so already: nothing to change.");
        }

        var why = reason ?? "changed " + Numbers.Names([.. changes.Select(c => c.What)]);
        after = after with { Revision = before.Revision.Next(by, time.GetUtcNow(), why) };
        await store.AddInstrumentAsync(after, cancellationToken);
        return await ToldAsync(after, cancellationToken);
    }

    /// <summary>Told and not refused: two that take turns on one cable are a habit of small labs.</summary>
    private async Task<ChangedInstrument> ToldAsync(Instrument changed, CancellationToken cancellationToken)
    {
        var other = changed.RetiredAt is not null || changed.Port is not { } port ? null
            : (await store.ListInstrumentsAsync(cancellationToken))
                .FirstOrDefault(i => i.RetiredAt is null && !Keys.Same(i.Name, changed.Name) && i.Port == port);
        return new ChangedInstrument(changed, other is null
            ? null
            : $"{other.Name} is on {changed.Port} too. Where it is gone: acquire instrument retire {Quoted(other.Name)}");
    }

    private void RefuseOtherProfile(Instrument instrument, string? profile)
    {
        if (profile is not null && !IsOf(instrument, profiles.Find(profile)))
        {
            throw new BenchException(
                $"{instrument.Name} is read with profile {instrument.Profile}, not {profile}. Leave --profile out, or change it for good: "
                + $"acquire instrument set {Quoted(instrument.Name)} --profile {profile}");
        }
    }

    private static string? Retired(Instrument instrument) => instrument.RetiredAt is { } at
        ? $"{instrument.Name} was retired on {Numbers.Day(at)}. Take it back into use: acquire instrument retire "
            + $"{Quoted(instrument.Name)} --back"
        : null;

    /// <summary>
    /// The profile by its name where it has one that finds it, else the file by its whole path, wherever the next command is.
    /// </summary>
    private string Known(string profile)
    {
        var found = profiles.Find(profile);
        return profiles.List().Any(e => e.Profile?.Hash == found.Hash && e.Name == found.Name) ? found.Name : Path.GetFullPath(profile);
    }

    private static string Named(string name) =>
        name.Trim() is { Length: > 0 and <= 60 } named && !named.Any(char.IsControl) && named[0] != '-'
        ? named
        : throw new BenchException("The name of an instrument has 1 to 60 letters, such as bench, and does not begin with a hyphen.");

    private static InstrumentSetup Setup(string name, LinkAddress address, DeviceProfile profile, int? baud) =>
        new(address, profile, baud is { } rate ? profile.Link with { Baud = rate } : profile.Link) { Name = name };

    private static bool IsOf(Instrument instrument, DeviceProfile profile) =>
        Keys.Same(instrument.Profile, profile.Name) || Keys.Same(Path.GetFileNameWithoutExtension(instrument.Profile), profile.Name);

    // By their words: an address that came with an import may be none on this computer.
    private static bool IsOn(Instrument instrument, LinkAddress port) => instrument.Port == port.ToString();

    private static string Names(List<Instrument> some) => Numbers.Names([.. some.Select(i => i.Name)]);

    internal static string Quoted(string name) => name.Contains(' ', StringComparison.Ordinal) ? $"\"{name}\"" : name;
}
