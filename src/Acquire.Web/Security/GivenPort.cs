using Acquire.Instruments.Links;

namespace Acquire.Web.Security;

/// <summary>
/// A port that a request names is opened by the service, with the service's rights. On this computer that is the owner's own affair; who
/// comes with a token that was given out may name a server, or a port that the system lists as an instrument's.
/// </summary>
internal static class GivenPort
{
    /// <exception cref="BenchException">The token does not let name it.</exception>
    /// <exception cref="LinkException">It is no address.</exception>
    public static LinkAddress Read(HttpContext context, string text) =>
        Read(text, isOwner: Roles.TokenOf(context.User) is null, () => [.. PortList.Find().SelectMany(p => new[] { p.Path, p.Device })]);

    internal static LinkAddress Read(string text, bool isOwner, Func<IReadOnlyCollection<string>> listed) => LinkAddress.Parse(text) switch
    {
        LinkAddress.Serial { Path: var path } when !isOwner && !listed().Contains(path, StringComparer.Ordinal) => throw new BenchException(
            $"'{path}' is no port that the service's computer lists. Those it lists are shown there by: acquire ports. Any other is named at the computer itself."),
        var address => address,
    };
}
