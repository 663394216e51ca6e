"""Every provider of forecasts, in the order in which a new rink is offered them."""

from rinklog.weather.providers import met_norway, open_meteo, us_nws
from rinklog.weather.providers.asking import Provider

PROVIDERS: dict[str, Provider] = {
    module.PROVIDER.slug: module.PROVIDER for module in (met_norway, us_nws, open_meteo)
}
