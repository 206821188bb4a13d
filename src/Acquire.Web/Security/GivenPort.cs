using System.Reflection;
using Acquire.Instruments.Links;

namespace Acquire.Web.Security;

/// <summary>
/// A port that a request names is opened by the service, with the service's rights. On this computer that is the owner's own affair; who
/// comes with a token that was given out may name a server, or a port that the system lists as an instrument's.
/// </summary>
internal static class GivenPort
{
    /// <summary>Looks at every <c>port</c> that a route of the group binds, alone or in a body, before the route does.</summary>
    public static RouteGroupBuilder WithPortChecks(this RouteGroupBuilder routes) => routes.AddEndpointFilterFactory((route, next) =>
    {
        List<Func<EndpointFilterInvocationContext, string?>> ports = [.. route.MethodInfo.GetParameters().SelectMany(PortIn)];
        return ports.Count == 0 ? next : context =>
        {
            foreach (var port in ports.Select(p => p(context)).Where(p => p is { Length: > 0 }))
            {
                _ = Read(
                    port!,
                    isOwner: Roles.TokenOf(context.HttpContext.User) is null,
                    () => [.. PortList.Find().SelectMany(p => new[] { p.Path, p.Device })]);
            }

            return next(context);
        };
    });

    /// <exception cref="BenchException">The token does not let name it.</exception>
    /// <exception cref="LinkException">It is no address.</exception>
    internal static LinkAddress Read(string text, bool isOwner, Func<IReadOnlyCollection<string>> listed) => LinkAddress.Parse(text) switch
    {
        LinkAddress.Serial { Path: var path } when !isOwner && !listed().Contains(path, StringComparer.Ordinal) => throw new BenchException(
            $"'{path}' is no port that the service's computer lists. Those it lists are shown there by: acquire ports. Any other is "
            + "named at the computer itself."),
        var address => address,
    };

    private static IEnumerable<Func<EndpointFilterInvocationContext, string?>> PortIn(ParameterInfo parameter)
    {
        var (place, type) = (parameter.Position, parameter.ParameterType);
        if (type == typeof(string) && string.Equals(parameter.Name, "port", StringComparison.OrdinalIgnoreCase))
        {
            yield return context => (string?)context.Arguments[place];
        }
        else if (type.GetProperty("Port") is { } property && property.PropertyType == typeof(string))
        {
            yield return context => context.Arguments[place] is { } body ? (string?)property.GetValue(body) : null;
        }
    }
}
